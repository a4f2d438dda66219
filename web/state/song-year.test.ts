import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import type { SongYear } from '#server/contract/year.ts';
import { saySung, shortOf, SongYearState } from './song-year.svelte.ts';

const key = { tonic: 'F', mode: 'major' } as const;
const sung = (date: string, name: string | null) => ({
  service: date,
  title: 'Morning',
  date,
  key,
  lead: name === null ? null : { id: name, name },
});
const YEAR: SongYear = {
  from: '2025-11-30',
  until: '2026-11-28',
  songs: [
    { id: 'a', title: 'Old Hundredth', sung: [sung('2026-01-04', 'Ruth')] },
    { id: 'b', title: 'Abide', sung: [sung('2026-11-01', 'Rolf'), sung('2026-03-01', 'Ruth')] },
    { id: 'c', title: 'Zion', sung: [sung('2026-11-08', null)] },
  ],
};

async function state() {
  vi.stubGlobal('fetch', () =>
    Promise.resolve(
      new Response(JSON.stringify(YEAR), { headers: { 'content-type': 'application/json' } }),
    ),
  );
  const year = new SongYearState('2026-11-28');
  await year.load();
  vi.unstubAllGlobals();
  return year;
}

describe('a year of songs', () => {
  it('is laid by rest or by how often', async () => {
    const year = await state();
    expect(year.songs.map(({ id }) => id)).toEqual(['a', 'b', 'c']);
    year.order = 'most often';
    expect(year.songs.map(({ id }) => id)).toEqual(['b', 'a', 'c']);
  });

  it('narrows to what somebody led, and counts who led how often', async () => {
    const year = await state();
    expect(year.leads).toEqual([
      { id: 'Ruth', name: 'Ruth', short: 'Ru', times: 2 },
      { id: 'Rolf', name: 'Rolf', short: 'Ro', times: 1 },
    ]);
    year.lead = 'Rolf';
    expect(year.songs.map(({ id }) => id)).toEqual(['b']);
  });

  it('shortens names so that no two are alike', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.string({ minLength: 1, maxLength: 6 })), (names) => {
        const shorts = names.map((name) => shortOf(name, names));
        expect(new Set(shorts).size).toBe(names.length);
      }),
    );
    expect(shortOf('Ann', ['Ann', 'Anna'])).toBe('Ann');
  });

  it('says when, in which key, and who led', () => {
    expect(saySung(sung('2026-09-20', 'Ruth'), '2026-11-29')).toBe(
      '20 September in F, led by Ruth',
    );
    expect(saySung(sung('2025-12-07', null), '2026-11-29')).toBe('7 December 2025 in F');
  });
});
