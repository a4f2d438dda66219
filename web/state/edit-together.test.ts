import { Editing, type Edit, type Score } from '#music';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alike, sameMusic } from './edit-differences.ts';
import { extended, NOTHING_DONE, type History } from './edit-history.ts';
import { together } from './edit-together.ts';
import { blankSong, named } from './edit-words.ts';

interface Written {
  readonly score: Score;
  readonly history: History;
}

const BAR = 80640;
const QUARTER = 20160;
const begin = (score: Score): Written => ({ score, history: NOTHING_DONE });

function does({ score, history }: Written, ...edits: Edit[]): Written {
  return edits.reduce<Written>(
    (now, edit) => {
      const done = Editing.apply(now.score, edit);
      if (!done.ok) throw new Error(done.problems[0]?.message);
      const step = { words: Editing.say(now.score, edit), by: { edits: [edit] } };
      return { score: done.value, history: extended(now.history, now.score, step) };
    },
    { score, history },
  );
}

const note = (bar: number, pitch: string, beat = 1, quarters = 1): Edit => ({
  do: 'note',
  voice: 'melody',
  at: (bar - 1) * BAR + (beat - 1) * QUARTER,
  length: quarters * QUARTER,
  pitches: [pitch],
});
const chord = (bar: number, symbol: string): Edit => ({ do: 'chord', at: (bar - 1) * BAR, symbol });
const facts = (title: string): Edit => ({ do: 'facts', facts: { title } });

const BASE = does(
  begin(blankSong()),
  facts('Lamp'),
  ...[1, 2, 3, 4].flatMap((bar) => [1, 2, 3, 4].map((beat) => note(bar, 'G4', beat))),
  chord(1, 'C'),
  chord(3, 'F'),
).score;

/** What both make of it: what I did after theirs; and whether it could be told. */
function both(mine: Edit[], theirs: Edit[]): Score | null {
  return together(BASE, does(begin(BASE), ...mine), does(begin(BASE), ...theirs).score)?.score ?? null; // prettier-ignore
}

/** One thing within a bar that lies whole in it. */
const within = (bar: number): fc.Arbitrary<Edit> =>
  fc.oneof(
    fc
      .tuple(fc.constantFrom('C4', 'E4', 'Bb4'), fc.integer({ min: 1, max: 4 }))
      .map(([pitch, beat]) => note(bar, pitch, beat)),
    fc.constantFrom('Am', 'D7', 'Bb').map((symbol) => chord(bar, symbol)),
    fc.integer({ min: 0, max: 3 }).map((beat): Edit => ({ do: 'fermata', voice: 'melody', at: (bar - 1) * BAR + beat * QUARTER, on: true })), // prettier-ignore
  );
const some = (bars: readonly number[]): fc.Arbitrary<Edit[]> =>
  fc.array(fc.constantFrom(...bars).chain(within), { minLength: 1, maxLength: 4 });

describe('What two people did to one song', () => {
  it('is laid together where they wrote in other bars, the same whoever comes first', () => {
    fc.assert(
      fc.property(some([1, 4]), some([2, 3]), (mine, theirs) => {
        const one = both(mine, theirs);
        const other = both(theirs, mine);
        expect(one && other && sameMusic(one, other)).toBe(true);
      }),
      { numRuns: 100 },
    );
  });

  it('is not laid together where both changed one bar to something of their own', () => {
    expect(both([note(2, 'A4', 1)], [note(2, 'B4', 3)])).toBeNull();
    expect(both([note(2, 'A4')], [note(2, 'B4')])).toBeNull();
    expect(both([chord(2, 'G')], [note(2, 'B4')])).toBeNull();
  });

  it('is laid together where one wrote notes and the other the title', () => {
    const laid = both([note(2, 'A4')], [facts('Evening Lamp')]);
    expect(laid?.facts.title).toBe('Evening Lamp');
    expect(laid?.voices[0]?.notes[4]?.pitches).toEqual(['A4']);
    expect(both([facts('Morning Lamp')], [facts('Evening Lamp')])).toBeNull();
  });

  it('is laid together where I put bars in and theirs are as they were; not the other way round', () => {
    const bars: Edit = { do: 'insert bars', bar: 1, count: 2 };
    const laid = both([bars], [note(3, 'A4')]);
    expect(laid?.bars).toHaveLength(6);
    expect(laid?.voices[0]?.notes.find(({ pitches }) => pitches[0] === 'A4')?.at).toBe(4 * BAR);
    // My places are counted in bars that theirs moved.
    expect(both([note(3, 'A4')], [bars])).toBeNull();
  });

  it('is not laid together where a bar was taken out that the other changed', () => {
    expect(both([{ do: 'remove bars', from: 2, to: 3 }], [note(3, 'A4')])).toBeNull();
    expect(both([{ do: 'remove bars', from: 2, to: 3 }], [note(2, 'A4')])).not.toBeNull();
  });

  it('has each of my steps after theirs, so that undo takes them back one by one', () => {
    const theirs = does(begin(BASE), note(1, 'A4')).score;
    const mine = does(begin(BASE), note(2, 'B4'), note(3, 'C5'));
    const laid = together(BASE, mine, theirs);
    expect(laid?.steps.map(({ step }) => step)).toEqual(
      mine.history.done.map(({ before: _, ...step }) => step),
    );
    expect(alike(laid?.steps.at(-1)?.score, laid?.score)).toBe(true);
  });

  it('is told from the last state that was saved, also where it had no title then', () => {
    const untitled = does(begin(blankSong()), note(1, 'G4'));
    const base = named(untitled.score);
    const theirs = does(begin(base), note(3, 'B4')).score;
    expect(together(base, does(untitled, note(2, 'A4')), theirs)?.steps).toHaveLength(1);
  });

  it('is not known where the saved state was taken back, or the song was laid anew as a whole', () => {
    const theirs = does(begin(BASE), note(1, 'A4')).score;
    expect(together(BASE, begin(blankSong()), theirs)).toBeNull();
    const anew = does(begin(BASE), note(2, 'B4')).score;
    const step = { words: 'anew', by: { score: anew } };
    const mine = { score: anew, history: extended(NOTHING_DONE, BASE, step) };
    expect(together(BASE, mine, theirs)).toBeNull();
  });
});
