import { Editing, QUARTER, type Score } from '#music';
import { describe, expect, it } from 'vitest';
import { clicksBefore } from './edit-click.ts';
import { QUARTER_NOTE } from './edit-length.ts';
import { editsOf, propose, sayMoved, type Struck } from './edit-proposal.ts';
import { blankSong } from './edit-words.ts';

const hand = { voice: 'melody', at: 0, length: QUARTER_NOTE };
/** 120 beats a minute. */
const BEAT = 500;
const struck = (midi: number, at: number, end: number): Struck => ({ midi, at, end });

function written(score: Score, played: readonly Struck[]): Score {
  const proposal = propose(played, score, hand, BEAT, 'quarters');
  return editsOf(proposal, score, hand).reduce((now, edit) => {
    const done = Editing.apply(now, edit);
    if (!done.ok) throw new Error(done.problems[0]?.message);
    return done.value;
  }, score);
}

describe('What was played along a click', () => {
  const played = [struck(60, 12, 480), struck(64, 520, 740), struck(67, 738, 980), struck(72, 985, 1900)]; // prettier-ignore

  it('stands on the beat, with how far each note was moved', () => {
    const { notes, most } = propose(played, blankSong(), hand, BEAT, 'quarters');
    expect(notes.map(({ at, length, pitches }) => [at / QUARTER, length / QUARTER, ...pitches])).toEqual([[0, 1, 'C4'], [1, 0.5, 'E4'], [1.5, 0.5, 'G4'], [2, 2, 'C5']]); // prettier-ignore
    expect(notes.map(({ moved }) => Math.round(moved))).toEqual([-12, -20, 12, 15]);
    expect(Math.round(most)).toBe(20);
  });

  it('is written so, and the song holds it', () => {
    const tune = written(blankSong(), played).voices[0]?.notes ?? [];
    expect(tune.slice(0, 4).map(({ pitches }) => pitches[0])).toEqual(['C4', 'E4', 'G4', 'C5']);
  });

  it('gets bars at the end where it is longer than the song', () => {
    const long = Array.from({ length: 20 }, (_, i) => struck(60 + (i % 3), i * 500, i * 500 + 450));
    expect(written(blankSong(), long).bars).toHaveLength(5);
  });

  it('takes keys that were struck together for one note with several pitches', () => {
    const chord = [struck(64, 8, 400), struck(60, 0, 410), struck(67, 15, 405)];
    const { notes } = propose(chord, blankSong(), hand, BEAT, 'quarters');
    expect(notes.map(({ pitches }) => pitches)).toEqual([['C4', 'E4', 'G4']]);
  });

  it('is three in the time of two where triplets may be', () => {
    const thirds = [0, 167, 333].map((at, i) => struck(60 + i, at, at + 150));
    const { notes } = propose([...thirds, struck(65, 500, 950)], blankSong(), hand, BEAT, 'thirds');
    expect(notes.map(({ tuplet }) => tuplet?.actual)).toEqual([3, 3, 3, undefined]);
  });

  it.each([
    [12.4, 'moved 12 ms later'],
    [-30, 'moved 30 ms earlier'],
    [0.2, 'not moved'],
  ])('%d ms is said as “%s”', (ms, words) => {
    expect(sayMoved(ms)).toBe(words);
  });
});

describe('The click', () => {
  it('falls on every beat, the first of each bar strong, none twice and none left out', () => {
    const plan = { beatsPerBar: 3, perMinute: 60 };
    const first = clicksBefore(plan, 10, 0, 12.5);
    expect(first).toEqual([
      { beat: 0, seconds: 10, strong: true },
      { beat: 1, seconds: 11, strong: false },
      { beat: 2, seconds: 12, strong: false },
    ]);
    expect(clicksBefore(plan, 10, 3, 13.5)).toEqual([{ beat: 3, seconds: 13, strong: true }]);
  });
});
