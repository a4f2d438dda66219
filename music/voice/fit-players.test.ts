import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import type { PlayerCost } from '../hand/player-cost.ts';
import { keysToOffer, type Key } from '../pitch/key.ts';
import { pitchClassOf } from '../pitch/pitch.ts';
import { along, front, table, trade, type FrontRow } from './key-fit.ts';
import type { Singer } from './range.ts';

const score = buildScore({
  key: 'G',
  meter: '3/4',
  voices: { tune: 'D4 | G4:2 B4 | B4:2 A4 | G4:2 E4 | D4:2 D4 | G4:2 B4 | B4:2 A4 | D5:3 | D5:2' },
});
const RUTH: Singer = {
  id: 'ruth',
  name: 'Ruth',
  comfortable: { low: 'A3', high: 'E5' },
  reads: 'as written',
};
const ADA: Singer = { ...RUTH, id: 'ada', name: 'Ada', comfortable: { low: 'G3', high: 'B4' } };
const TABLE = table(score, [RUTH, ADA]);
const UNITS = { keys: 'hard moves', guitar: 'barre changes', bass: 'per cent off open strings' } as const; // prettier-ignore

const cost = (
  role: keyof typeof UNITS,
  value: number,
  more: Partial<PlayerCost> = {},
): PlayerCost => ({
  player: 'p',
  name: 'Joel',
  role,
  ease: { value, unit: UNITS[role] },
  finer: [],
  plays: null,
  phrase: `${value} ${UNITS[role]}`,
  sentence: '',
  items: [],
  instead: null,
  ...more,
});
const at = ({ tonic }: Key): number => pitchClassOf(tonic);

/** Straight from the words of the rule: nowhere worse and somewhere better, over everything that a key costs. */
function isWorse(row: FrontRow, rows: readonly FrontRow[], figures: (key: Key) => number[]) {
  const voice = ({ verdict, shareOutside }: { verdict: string; shareOutside: number }) =>
    ['easy', 'works', 'edge', 'outside'].indexOf(verdict) + shareOutside;
  const all = (each: FrontRow): number[] => [
    ...each.voices.map((one) => (one.known === 'melody' ? voice(one) : NaN)),
    ...figures(each.key),
    Math.abs(((at(each.key) - pitchClassOf('G') + 18) % 12) - 6),
    SHARPS[each.key.tonic] ?? NaN,
  ];
  const mine = all(row);
  return rows.some((other) => {
    const theirs = all(other);
    return theirs.every((value, i) => value <= (mine[i] ?? 0)) && theirs.join() !== mine.join();
  });
}

/** Sharps or flats of the major keys (circle of fifths). */
const SHARPS: Readonly<Record<string, number>> = { C: 0, G: 1, D: 2, A: 3, E: 4, B: 5, 'F#': 6, F: 1, Bb: 2, Eb: 3, Ab: 4, Db: 5 }; // prettier-ignore

describe('the front of trade-offs', () => {
  const twelve = fc.array(fc.nat(3), { minLength: 12, maxLength: 12 });
  it('drops exactly the keys that another one is better than over all dimensions, players too', () => {
    fc.assert(
      fc.property(
        twelve,
        twelve,
        fc.constantFrom<Key | null>(null, { tonic: 'F', mode: 'major' }),
        (keys, guitar, usual) => {
          const players = (key: Key) => [
            cost('keys', keys[at(key)] ?? 0),
            cost('guitar', guitar[at(key)] ?? 0),
          ];
          const { rows, suggestion } = front(TABLE, { lead: 'ruth', players, usual });
          const figures = (key: Key) => [
            keys[at(key)] ?? 0,
            guitar[at(key)] ?? 0,
            usual ? Math.abs(((at(key) - at(usual) + 18) % 12) - 6) : 0,
          ];
          for (const row of rows)
            expect(row.dominated !== null, row.key.tonic).toBe(isWorse(row, rows, figures));
          const best = rows.find(({ key }) => key === suggestion?.key);
          expect(best?.dominated).toBeNull();
          expect(along(rows).length).toBeGreaterThan(0);
        },
      ),
    );
  });

  it('compares each player only with themselves: what they do elsewhere counts for nothing', () => {
    const players = () => [cost('keys', 5), cost('guitar', 0)];
    const without = front(TABLE, { lead: 'ruth' });
    const withThem = front(TABLE, { lead: 'ruth', players });
    expect(withThem.rows.map(({ dominated }) => dominated?.by)).toEqual(
      without.rows.map(({ dominated }) => dominated?.by),
    );
  });

  it('says which player decided the suggestion, and what was finer', () => {
    const players = ({ tonic }: Key) => [cost('keys', ['C', 'F'].includes(tonic) ? 0 : 2, { finer: [tonic === 'C' ? 1 : 7] })]; // prettier-ignore
    const wide = { ...RUTH, comfortable: { low: 'D3', high: 'D6' } };
    const { suggestion } = front(table(score, [wide]), { lead: 'ruth', players });
    const steps = suggestion?.steps.filter(({ by }) => by.includes('Joel at the keys')) ?? [];
    expect(steps.map(({ words }) => words)).toEqual([
      'C, F: Joel at the keys: 0 hard moves, the least',
      'C: Joel at the keys: 0 hard moves, and all in all the easiest',
    ]);
    expect(new Set(suggestion?.steps.map(({ by }) => by)).size).toBe(suggestion?.steps.length);
  });
});

describe('a step along the front', () => {
  const byCapo = (amount: number): Partial<PlayerCost> => ({
    plays: { by: 'capo', amount, plays: { tonic: 'D', mode: 'major' }, sounds: { tonic: 'F', mode: 'major' }, words: '', reminder: '' }, // prettier-ignore
  });
  const players = ({ tonic }: Key) => [
    cost('keys', tonic === 'F' ? 1 : 4, { name: 'Ruth' }),
    cost('guitar', 0, tonic === 'F' ? byCapo(3) : {}),
  ];
  const { rows } = front(TABLE, { lead: 'ruth', players });
  const row = (tonic: string) => {
    const found = rows.find(({ key }) => key.tonic === tonic);
    if (!found) throw new Error(`${tonic} is gone`);
    return found;
  };

  it('says what is gained, what is lost and what is only otherwise', () => {
    const { gained, lost, changed, sentence } = trade(row('G'), row('F'));
    expect(gained).toContain('easier for Ruth at the keys (three hard moves fewer)');
    expect(lost).toEqual(['further from the home key']);
    expect(changed).toEqual(['capo 3 instead of none for Joel']);
    expect(sentence).toMatch(/^From G to F, down a step\. Gained: .*\. Lost: further from the home key\. Also capo 3 instead of none for Joel\.$/); // prettier-ignore
  });

  it('and back is the same the other way round', () => {
    for (const a of rows)
      for (const b of rows) {
        expect(trade(a, b).gained).toHaveLength(trade(b, a).lost.length);
        if (a === b) expect(trade(a, b).gained).toEqual([]);
      }
  });

  it('goes from the lowest key to the highest', () => {
    const ways = along(rows).map(({ voices }) => voices[0]?.interval.semitones ?? NaN);
    expect(ways).toEqual([...ways].sort((a, b) => a - b));
    expect(keysToOffer('major').length).toBe(12);
  });
});
