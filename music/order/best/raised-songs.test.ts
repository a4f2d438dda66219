import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { keysToOffer, type Key } from '../../pitch/key.ts';
import type { ArrangedPass } from '../../parts/arrangement.ts';
import { keyAtEnd, keyAtStart } from '../../parts/form/keys-of-form.ts';
import { QUARTER, type Score } from '../../score/score.ts';
import { bestOf } from './best-order.ts';
import { keysOfSong } from './joins.ts';
import { PRICES, type OrderTeam, type SongToPlan } from './terms.ts';
import type { WeighedSong } from './weigh.ts';

const SCORE = buildScore({ key: 'C', meter: '4/4', voices: { tune: 'C4:4' } });
const SECTION = SCORE.sections[0]?.id ?? '';
const D: Key = { tonic: 'D', mode: 'major' };
const KEYS = keysToOffer('major');
const TEAM: OrderTeam = {
  singers: [],
  leads: [
    { id: 'ada', name: 'Ada' },
    { id: 'bo', name: 'Bo' },
  ],
  congregation: null,
  player: null,
};

/** A song by the half steps of its first and last pass, and the ways it was weighed in. */
interface Drawn {
  readonly first: number;
  readonly last: number;
  readonly ways: readonly {
    readonly key: number;
    readonly lead: string;
    readonly points: number;
  }[];
}

const up = fc.constantFrom(0, 0, 1, 2, 3, -2);
const drawn: fc.Arbitrary<Drawn> = fc.record({
  first: up,
  last: up,
  ways: fc.uniqueArray(
    fc.record({
      key: fc.nat(11),
      lead: fc.constantFrom('ada', 'bo'),
      points: fc.nat(12),
    }),
    { minLength: 1, maxLength: 3, selector: ({ key, lead }) => `${key} ${lead}` },
  ),
});

const songOf = ({ first, last }: Drawn, at: number): SongToPlan => ({
  id: String(at),
  title: String(at),
  score: SCORE,
  arrangement: {
    tempo: null,
    density: 'bar',
    form: [first, 0, last].map((each, i) => ({ section: SECTION, verse: i + 1, up: each })),
  },
  usual: KEYS[0] as Key,
  now: { key: KEYS[0] as Key, lead: 'ada' },
});

const weighedOf = ({ ways }: Drawn): WeighedSong => ({
  ways: ways.map(({ key, lead, points }) => ({
    key: KEYS[key] as Key,
    lead,
    costs: points > 0 ? [{ kind: 'singer', words: '', points }] : [],
  })),
  relaxed: null,
});

const MAJOR = [0, 2, 4, 5, 7, 9, 11];
const triadsOf = (root: number): string[] =>
  MAJOR.map((_, i) =>
    [0, 2, 4]
      .map((third) => (root + (MAJOR[(i + third) % 7] ?? 0)) % 12)
      .sort((a, b) => a - b)
      .join(' '),
  );
/** From one major key to another by pitch class: triads stacked in thirds, counted. */
const JOINS = Array.from({ length: 12 }, (_, from) =>
  Array.from({ length: 12 }, (__, to) => {
    const shared = triadsOf(from).filter((triad) => triadsOf(to).includes(triad)).length;
    if (from === to) return 0;
    return shared >= 4 ? PRICES.joinNear : shared > 0 ? PRICES.joinSome : PRICES.joinNone;
  }),
);
const CLASSES = KEYS.map(({ tonic }) => midiOf(`${tonic}4`) % 12);

/** Every order, key and lead; shares nothing with the search. */
function leastOf(songs: readonly Drawn[], most: number): number {
  let least = Infinity;
  const walk = (taken: readonly number[], leads: readonly string[], end: number, sum: number) => {
    if (taken.length === songs.length) least = Math.min(least, sum);
    songs.forEach(({ first, last, ways }, song) => {
      if (taken.includes(song)) return;
      for (const { key, lead, points } of ways) {
        if (leads.filter((each) => each === lead).length >= most) continue;
        const at = CLASSES[key] ?? 0;
        const join = end < 0 ? 0 : (JOINS[end]?.[(at + first + 12) % 12] ?? NaN);
        walk([...taken, song], [...leads, lead], (at + last + 12) % 12, sum + points + join);
      }
    });
  };
  walk([], [], -1, 0);
  return least;
}

describe('the keys that a song begins and ends in', () => {
  it('are those of its form, whether or not it changes key by itself', () => {
    const modulating = buildScore({
      key: 'C',
      meter: '4/4',
      voices: { tune: 'C4:4 | D4:4' },
    });
    const there: Score = {
      ...modulating,
      keys: [
        ...modulating.keys,
        { ...(modulating.keys[0] as Score['keys'][0]), at: 4 * QUARTER, key: D, signature: 2 },
      ],
    };
    for (const key of KEYS)
      for (const first of [-2, 0, 1, 3])
        for (const last of [-2, 0, 1, 3]) {
          const form = [first, 0, last].map((each, i) => ({
            section: SECTION,
            verse: i + 1,
            up: each,
          }));
          for (const score of [SCORE, there]) {
            const arrangement = { tempo: null, density: 'bar', form } as const;
            const found = keysOfSong({ score, arrangement })(key);
            expect(found.start).toEqual(keyAtStart({ key, form }, score));
            expect(found.end).toEqual(keyAtEnd({ key, form }, score));
          }
        }
    const form = [{ section: SECTION, verse: 1 }];
    const song = keysOfSong({ score: there, arrangement: { tempo: null, density: 'bar', form } });
    expect(song(KEYS[0] as Key)).toMatchObject({ start: { tonic: 'C' }, end: { tonic: 'D' } });
  });

  it('of words alone are the song’s own, and of passes through sections that are gone nothing is left', () => {
    const asked = (score: Score, form: ArrangedPass[]) =>
      keysOfSong({ score, arrangement: { tempo: null, density: 'bar', form } })(D);
    const up = { section: SECTION, verse: 1, up: 2 };
    const words: Score = { ...SCORE, untimed: true, chords: [] };
    expect(asked(words, [up])).toEqual({ key: D, start: D, end: D });
    expect(asked(SCORE, [up, { ...up, section: 'gone', up: 3 }]).end.tonic).toBe('E');
  });
});

describe('songs that begin or end in another key', () => {
  it('their cheapest order is that of every order tried, proved, in 10,000 small cases', () => {
    const songs = fc.array(drawn, { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(songs, fc.integer({ min: 1, max: 3 }), (all, most) => {
        const found = bestOf(all.map(songOf), all.map(weighedOf), TEAM, { order: 'free', most });
        const least = leastOf(all, most);
        expect(found.plans[0]?.total ?? Infinity).toBe(least);
        if (found.plans[0]) expect(found.proof).toMatchObject({ optimal: true, bound: least });
      }),
      { numRuns: 10_000 },
    );
  });
});
