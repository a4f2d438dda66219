import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import type { Score } from '../../score/score.ts';
import { heldUnder } from './bass-pedal.ts';
import { inSections } from './bass-notes.ts';
import { playedChords } from '../played-chords.ts';

const chordsOf = (score: Score) => inSections(playedChords(score), score.sections);
/** One bar to a chord, in C. */
const song = (symbols: readonly string[]) =>
  songOf(`${symbols.map((symbol) => `"${symbol}"C4|`).join('')}]`);
/** `F G g C`: small where a note stays. */
const said = (score: Score): string =>
  heldUnder(score, chordsOf(score), () => true)
    .map(({ note, stays }) => (stays ? note.toLowerCase() : note))
    .join(' ');
const held = (...symbols: string[]): string => said(song(symbols));

describe('the dominant of a cadence', () => {
  // Common practice of the dominant pedal and of the cadential fourth and sixth.
  it.each([
    [['F', 'C', 'G7', 'C'], 'F G g C', 'is held under the tonic before its own chord'],
    [['C', 'F', 'C', 'G'], 'C F C G', 'never the tonic'],
    [['F', 'Am', 'G', 'C'], 'F A G C', 'not under a chord that does not contain it'],
    [['F', 'C', 'Em', 'G7', 'C'], 'F C G g C', 'no longer before its chord than a bar'],
    [['C', 'G', 'C'], 'C G C', 'not under the chord with which a section begins'],
    [['F', 'C', 'G', 'Am', 'C'], 'F C G A C', 'not where the tonic does not follow'],
    [['F', 'C', 'G', 'C', 'F', 'C'], 'F C G C F C', 'not inside a phrase'],
    [['F', 'C/E', 'G', 'C'], 'F E G C', 'not under a bass that a person wrote'],
  ])('%j: %s: %s', (symbols, expected) => {
    expect(held(...symbols)).toBe(expected);
  });

  it('is held through two chords that are no longer together', () => {
    expect(said(songOf('"F"C4|"C"C2"Em"C2|"G7"C4|"C"C4|]'))).toBe('F G g g C');
  });

  it('is not under the chord with which a line of the words ends, and comes before the end of one', () => {
    const words = (line: string) =>
      said(songOf('"C"C4|"C/E"C4|"F"C4|"C"C4|"G"D4|"C"C4|"F"F4|"C"C4|]', [line]));
    expect(words('Day and night we sing now, for love')).toBe('C E F G g C F C');
    expect(words('Day and night we, sing now, for love')).toBe('C E F C G C F C');
  });

  it('is not carried over a repeat', () => {
    expect(said(songOf('|:"C"C4|"C"C4:|"G"D4|"C"C4|]'))).toBe('C G C');
  });

  it('is not held where the bass may not', () => {
    const score = song(['F', 'C', 'G7', 'C']);
    const line = heldUnder(score, chordsOf(score), (i) => i !== 1);
    expect(line.map(({ note, pedal }) => [note, pedal])).toEqual(
      ['F', 'C', 'G', 'C'].map((note) => [note, false]),
    );
  });

  // The rule once more as it reads, in a bar to a chord and one phrase: one chord before the last dominant, no other.
  it('is held before its own chord there and nowhere else', () => {
    const symbols = fc.array(fc.constantFrom('C', 'F', 'G', 'Am', 'G7', 'C/E', 'Dm', 'Em'), {
      minLength: 2,
      maxLength: 8,
    });
    fc.assert(
      fc.property(symbols, (names) => {
        // One chord may last for bars.
        const each = names.filter((name, i) => i === 0 || name !== names[i - 1]);
        const bars = (index: number) => {
          const at = names.reduce<number[]>(
            (all, name, i) => (i === 0 || name !== names[i - 1] ? [...all, i] : all),
            [],
          );
          return (at[index + 1] ?? names.length) - (at[index] ?? 0);
        };
        const rootOf = (name: string) => (name === 'C/E' ? 'E' : name.charAt(0));
        const [before, dominant, tonic] = [each.length - 3, each.length - 2, each.length - 1];
        const isCadence = each[tonic] === 'C' && ['G', 'G7'].includes(each[dominant] ?? '');
        const isHeld =
          isCadence &&
          before > 0 &&
          ['C', 'Em'].includes(each[before] ?? '') &&
          bars(before) <= bars(dominant);
        const score = song(names);
        const line = heldUnder(score, chordsOf(score), () => true);
        expect(line.map(({ note }) => note)).toEqual(
          each.map((name, i) => (isHeld && i === before ? 'G' : rootOf(name))),
        );
      }),
      { numRuns: 300 },
    );
  });
});
