import { Editing, QUARTER, type Score } from '#music';
import { describe, expect, it } from 'vitest';
import { nextBeat } from './edit-chords.ts';
import { settled } from './edit-place.ts';
import { QUARTER_NOTE } from './edit-length.ts';
import { blankSong } from './edit-words.ts';

function withNote(score: Score, at: number, quarters: number): Score {
  const { melody: voice } = score;
  const length = quarters * QUARTER;
  const done = Editing.apply(score, { do: 'note', voice, at, length, pitches: ['G4'] });
  if (!done.ok) throw new Error(done.problems[0]?.message);
  return done.value;
}

describe('Where the next chord is written', () => {
  it('is the next beat of a rest', () => {
    expect(nextBeat(blankSong(), 0)).toBe(QUARTER);
  });

  it.each([2, 3, 4])(
    'is after a note of %i quarters, so that the cursor never sticks',
    (length) => {
      const score = withNote(blankSong(), 0, length);
      const at = nextBeat(score, 0);
      expect(at).toBe(length * QUARTER);
      const hand = { voice: score.melody, at, length: QUARTER_NOTE };
      expect(settled(score, hand).at).toBe(at);
    },
  );
});
