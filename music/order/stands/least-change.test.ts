import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  barsWithoutBass,
  brute,
  DORA,
  formOf,
  joinAfter,
  JOEL,
  major,
  partOf,
  SONGS,
  TEAM,
} from '#test/support/brute-stands.ts';
import { pitchClassOf } from '../../pitch/pitch.ts';
import { LeastChange, newMemory } from './least-change.ts';
import type { Mishaps, StandService, StandSong } from './terms.ts';

function serviceOf(
  keys: readonly string[],
  leads: readonly string[],
  usual: string | null,
): StandService {
  return {
    people: TEAM,
    congregation: null,
    lines: SONGS.map((score, i): StandSong => {
      const key = major(keys[i] ?? 'F');
      const lead = leads[i] ?? 'Ada';
      return {
        id: `line-${i}`,
        title: `song ${i}`,
        score,
        arrangement: { tempo: null, density: 'bar', form: formOf(i) },
        usual: key,
        now: { key, lead },
        named: lead,
        usualLead: usual,
        playedIn: {},
        rungs: {},
      };
    }),
  };
}

const memory = newMemory();
function asked(service: StandService, mishaps: Mishaps) {
  const change = new LeastChange(service, mishaps, memory);
  const { lines } = change.plan;
  const joins = lines.slice(1).map(({ key }, i) => joinAfter(i, lines[i]?.key ?? key, key));
  const own = lines.flatMap(({ costs }) => costs.map(({ points }) => points));
  return {
    change,
    changes: lines.reduce((sum, { item }) => sum + (change.pagesOf(item)?.points ?? 0), 0),
    points: [...own, ...joins].reduce((sum, each) => sum + each, 0),
  };
}

const tonic = fc.constantFrom('C', 'D', 'Eb', 'F', 'G', 'A', 'Bb');
const lead = fc.constantFrom('Ada', 'Ruben');
const away = fc.constant({ kind: 'away' as const });
const hoarse = fc.constantFrom(
  { kind: 'voice' as const, range: { low: 'A3', high: 'A4' } },
  { kind: 'voice' as const, range: { low: 'B3', high: 'G4' } },
);
const mishaps: fc.Arbitrary<Mishaps> = fc.record(
  { Dora: away, Joel: away, Elias: away, Ada: fc.oneof(away, hoarse), Marit: away, Wren: away },
  { requiredKeys: [] },
);

describe('The least change after a mishap', () => {
  it('is what trying every key and lead finds, to the point', { timeout: 240_000 }, () => {
    fc.assert(
      fc.property(
        fc.array(tonic, { minLength: 3, maxLength: 3 }),
        fc.array(lead, { minLength: 3, maxLength: 3 }),
        fc.option(lead),
        mishaps,
        (keys, leads, usual, what) => {
          const service = serviceOf(keys, leads, usual);
          const { changes, points } = asked(service, what);
          expect({ changes, points }).toEqual(brute(service, what));
        },
      ),
      { numRuns: 24 },
    );
  });

  it('counts the bars of a page as it is written, not those of the song', () => {
    const page = partOf(2, major('F'), DORA, 'bass', { roles: ['lead voice', 'bass'] });
    expect(page.score.bars.length).toBeGreaterThan(SONGS[2]?.bars.length ?? Infinity);
  });

  it('leaves a song as it is where whoever leads it stays', () => {
    const service = serviceOf(['Eb', 'F', 'G'], ['Ruben', 'Ada', 'Ruben'], null);
    const { change } = asked(service, { Ada: { kind: 'away' } });
    expect(change.plan.lines.map(({ changed }) => changed.lead)).toEqual([false, true, false]);
    expect(change.plan.lines.map(({ lead }) => lead)).toEqual(['Ruben', 'Ruben', 'Ruben']);
  });

  it('writes no part to choose where nobody who leads is missing', () => {
    const fresh = newMemory();
    const change = new LeastChange(
      serviceOf(['F', 'F', 'F'], ['Ada', 'Ada', 'Ada'], null),
      { Dora: { kind: 'away' } },
      fresh,
    );
    expect(change.plan.lines).toHaveLength(3);
    expect(fresh.parts.built).toBe(0);
  });

  it('says bars by number, and that a page stays where a button is set', () => {
    const service = serviceOf(['F', 'F', 'F'], ['Ada', 'Ada', 'Ada'], null);
    const bass = new LeastChange(service, { Dora: { kind: 'away' } }, memory);
    const said = bass.pagesOf('line-0')?.pages.find(({ member }) => member === 'Joel');
    expect(said?.bars).toBe(barsWithoutBass(0, major('F'), JOEL));
    expect(said?.words === '' || /^Joel’s left hand/.test(said?.words ?? '')).toBe(true);
    const low = { kind: 'voice', range: { low: 'F3', high: 'G4' } } as const;
    const { change } = asked(service, { Ada: low, Ruben: { kind: 'away' } });
    const moved = change.plan.lines.filter(({ changed }) => changed.key);
    expect(moved.length).toBeGreaterThan(0);
    for (const { item, key, playedIn } of moved) {
      const marit = change.pagesOf(item)?.pages.find(({ member }) => member === 'Marit');
      expect(marit).toMatchObject({ kind: 'same', bars: 0 });
      expect(playedIn['Marit']).toBe('F');
      // What is read and what is set make what sounds.
      const amount = marit?.setting?.amount ?? 0;
      expect((pitchClassOf('F') + amount + 12) % 12).toBe(pitchClassOf(key.tonic));
      expect(marit?.words).toMatch(/^Marit: keyboard set to [+−]\d, the page stays in F$/);
    }
  });

  it('says where nobody is left who could lead', () => {
    const away = { kind: 'away' } as const;
    const { people, ...rest } = serviceOf(['F', 'F', 'F'], ['Ada', 'Ada', 'Ada'], null);
    const alone = people.filter(({ id }) => id === 'Ada' || id === 'Joel');
    const { plan } = new LeastChange({ ...rest, people: alone }, { Ada: away });
    expect(plan.people.map(({ id }) => id)).toEqual(['Joel']);
    expect(plan.lines.every((line) => line.lead === null)).toBe(true);
    expect(plan.problems[0]).toBe('Nobody is left who could lead “song 0”.');
  });
});
