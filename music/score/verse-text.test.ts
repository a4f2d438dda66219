import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import type { Score } from './score.ts';
import { linesOfVerse } from './verse-text.ts';

/** The same words without stops and capitals, as some programs write them under notes. */
function unpunctuated(score: Score): Score {
  const plain = (text: string): string => text.toLowerCase().replace(/[^\p{L}\p{M}’']/gu, '');
  const voices = score.voices.map((voice) => ({
    ...voice,
    notes: voice.notes.map((note) => {
      if (!note.syllables) return note;
      const syllables = note.syllables.map((each) => each && { ...each, text: plain(each.text) });
      return { ...note, syllables };
    }),
  }));
  return { ...score, voices };
}

describe('Words without stops and capitals', () => {
  // As hymnals print them: four lines of 10.10.10.10 (the hymn's own meter line), of 8.6.8.6.
  it.each([
    ['Abide_With_Me-Eventide.abc', ['abide with me fast falls the eventide', 'the darkness deepens lord with me abide', 'when other helpers fail and comforts flee', 'help of the helpless o abide with me']],
    ['Our_God_Our_Help_In_Ages_Past-St_Anne.abc', ['our god our help in ages past', 'our hope for years to come', 'our shelter from the stormy blast', 'and our eternal home']],
  ])('have the lines of their hymn meter: %s', (file, lines) => {
    expect(linesOfVerse(unpunctuated(hymn(file)), 0)).toEqual(lines);
  }); // prettier-ignore

  it.each(HYMN_FILES)('never stand in one endless line: %s', (file) => {
    const score = unpunctuated(hymn(file));
    const lines = linesOfVerse(score, 0);
    expect(lines.length).toBeGreaterThan(2);
    // All of them, none twice.
    expect(lines.join(' ')).toBe(linesOfVerse(hymn(file), 0).join(' ').toLowerCase().replace(/[^\p{L}\p{M}’' ]/gu, '')); // prettier-ignore
  });
});
