import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import type { Role } from '../../parts/part.ts';
import type { Range } from '../../voice/range.ts';
import { LeastChange } from './least-change.ts';
import type { StandPerson, StandService } from './terms.ts';

const person = (id: string, roles: Role[], low: string, high: string): StandPerson => {
  const comfortable: Range = { low, high };
  return { id, name: id, roles, level: 'beginner', levels: {}, instruments: {}, reach: 12, comfortable, limit: null }; // prettier-ignore
};
const ADA = person('Ada', ['lead voice'], 'A3', 'C5');
const MARIT = person('Marit', ['harmony voice'], 'G3', 'B4');
const DORA = person('Dora', ['harmony voice'], 'G3', 'A4');

/** A tune with its chords and no second voice. */
const song = songOf('"C"EGcG|"F"A2F2|"G"GFDG|"C"E4|"F"AFAc|"C"G2E2|"G7"FDFD|"C"C4|]');
const key = { tonic: 'C', mode: 'major' } as const;
const service: StandService = {
  people: [ADA, MARIT, DORA],
  congregation: null,
  lines: [{ id: 'a', title: 'A tune', score: song, arrangement: { tempo: null, density: 'bar', form: null }, usual: key, now: { key, lead: 'Ada' }, named: 'Ada', usualLead: null, playedIn: {}, rungs: {} }], // prettier-ignore
};

describe('Who sings beside the tune', () => {
  it('has another line once whoever had theirs before is away, and it is said to the bar', () => {
    const pages = new LeastChange(service, { Marit: { kind: 'away' } }).pagesOf('a')?.pages ?? [];
    const [dora] = pages.filter(({ member }) => member === 'Dora');
    expect(dora?.kind).toBe('bars');
    expect(dora?.bars).toBeGreaterThan(0);
    expect(dora?.words).toMatch(/^Dora’s line, /);
  });

  it('costs a quarter of a point a bar, and no more than the same page in another key', () => {
    const change = new LeastChange(service, { Marit: { kind: 'away' } });
    const { pages = [], points } = change.pagesOf('a') ?? {};
    const bars = pages.find(({ member }) => member === 'Dora')?.bars ?? 0;
    expect(points).toBe(Math.ceil(bars / 4));
    expect(points).toBeLessThanOrEqual(Math.ceil(song.bars.length / 4));
  });

  it('keeps theirs where whoever comes after them is away', () => {
    const pages = new LeastChange(service, { Dora: { kind: 'away' } }).pagesOf('a')?.pages ?? [];
    expect(pages.map(({ member, kind }) => [member, kind])).toEqual([
      ['Ada', 'same'],
      ['Marit', 'same'],
    ]);
  });
});
