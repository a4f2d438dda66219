import { Editing, type Edit, type Score } from '#music';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  extended,
  kept,
  MOST_STEPS,
  NOTHING_DONE,
  redone,
  revived,
  undone,
  type History,
} from './edit-history.ts';
import { blankSong } from './edit-words.ts';

interface Now {
  readonly history: History;
  readonly score: Score;
}

const begin = (): Now => ({ history: NOTHING_DONE, score: blankSong() });

const note = (pitch: string, at: number): Edit => ({
  do: 'note',
  voice: 'melody',
  at,
  length: 20160,
  pitches: [pitch],
});

function after({ history, score }: Now, edit: Edit, merge?: string): Now {
  const done = Editing.apply(score, edit);
  if (!done.ok) throw new Error(done.problems[0]?.message);
  const step = { words: Editing.say(score, edit), by: { edits: [edit] } };
  return {
    history: extended(history, score, merge === undefined ? step : { ...step, merge }),
    score: done.value,
  };
}

const title = (now: Now, text: string, merge = 'title'): Now =>
  after(now, { do: 'facts', facts: { title: text } }, merge);

function back({ history, score }: Now): Now {
  const to = undone(history, score);
  if (!to) throw new Error('nothing was done');
  return to;
}

function forth({ history, score }: Now): Now {
  const to = redone(history, score);
  if (!to) throw new Error('nothing was taken back');
  return to;
}

const edits = fc.array(
  fc.oneof(
    fc
      .tuple(fc.constantFrom('C4', 'E4', 'G4', 'Bb4'), fc.integer({ min: 0, max: 15 }))
      .map(([pitch, beat]) => note(pitch, beat * 20160)),
    fc
      .string({ maxLength: 8 })
      .map((text): Edit => ({ do: 'facts', facts: { title: `a${text}` } })),
  ),
  { minLength: 1, maxLength: 12 },
);

describe('The history of a song', () => {
  it('leads back to the beginning and forth to the end again, whatever was done', () => {
    fc.assert(
      fc.property(edits, (some) => {
        const start = begin();
        let now = some.reduce((sum, edit) => after(sum, edit), start);
        const end = now.score;
        for (const _ of some) now = back(now);
        expect(now.score).toBe(start.score);
        expect(undone(now.history, now.score)).toBeNull();
        for (const _ of some) now = forth(now);
        expect(now.score).toBe(end);
        expect(redone(now.history, now.score)).toBeNull();
      }),
      { numRuns: 60 },
    );
  });

  it('is the same after it was kept as JSON and taken up again', () => {
    fc.assert(
      fc.property(edits, fc.nat(12), (some, backs) => {
        let now = some.reduce((sum, edit) => after(sum, edit), begin());
        for (let i = 0; i < Math.min(backs, some.length); i += 1) now = back(now);
        const json = JSON.stringify(kept(now.history, now.score));
        const again = revived(JSON.parse(json) as ReturnType<typeof kept>, now.score);
        expect(JSON.parse(JSON.stringify(again))).toEqual(JSON.parse(JSON.stringify(now.history)));
      }),
      { numRuns: 60 },
    );
  });

  it('takes typing in one field for one step, until something else is done', () => {
    let now = ['A', 'Am', 'Ama'].reduce((sum, text) => title(sum, text), begin());
    now = after(now, note('C4', 0));
    now = title(now, 'Amaz');
    expect(now.history.done).toHaveLength(3);
    now = back(now);
    expect(now.score.facts.title).toBe('Ama');
    now = back(back(now));
    expect(now.score.facts.title).toBe('');
  });

  it('keeps of typing only the last state, so that a draft stays small', () => {
    const now = ['A', 'Am', 'Ama'].reduce((sum, text) => title(sum, text), begin());
    expect(now.history.done[0]?.by).toEqual({ edits: [{ do: 'facts', facts: { title: 'Ama' } }] });
  });

  it('forgets what was taken back once something new is done', () => {
    const now = after(back(after(begin(), note('C4', 0))), note('E4', 0));
    expect(now.history.undone).toEqual([]);
  });

  it(`has at most ${MOST_STEPS} steps`, () => {
    const pitches = Array.from({ length: MOST_STEPS + 20 }, (_, i) => (i % 2 === 0 ? 'C4' : 'E4'));
    const now = pitches.reduce((sum, pitch) => after(sum, note(pitch, 0)), begin());
    expect(now.history.done).toHaveLength(MOST_STEPS);
  });

  it('is given up where it does not lead to the song that was kept: the song counts', () => {
    const now = after(begin(), note('C4', 0));
    const other = { ...now.score, facts: { ...now.score.facts, title: 'Other' } };
    expect(revived(kept(now.history, now.score), other)).toEqual(NOTHING_DONE);
  });
});
