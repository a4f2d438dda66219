import { Editing, QUARTER, Time, type Edit, type Score } from '#music';
import { describe, expect, it } from 'vitest';
import { doing } from './edit-doing.ts';
import type { EditCommand } from './edit-keys.ts';
import { commandOf } from './edit-keys.ts';
import { QUARTER_NOTE } from './edit-length.ts';
import { moved, movedByBar, sayHand, settled, type Hand } from './edit-place.ts';
import { blankSong } from './edit-words.ts';

interface At {
  readonly score: Score;
  readonly hand: Hand;
}

const begin = (): At => {
  const score = blankSong();
  return { score, hand: { voice: score.melody, at: 0, length: QUARTER_NOTE } };
};

function after({ score, hand }: At, command: EditCommand): At {
  const does = doing(score, hand, command);
  let next = score;
  for (const edit of does.edits) {
    const done = Editing.apply(next, edit);
    if (!done.ok) throw new Error(done.problems[0]?.message);
    next = done.value;
  }
  return { score: next, hand: settled(next, does.hand) };
}

/** Types keys one after the other; names of more than one letter are in angle brackets. */
function type(at: At, keys: string): At {
  return [...keys.matchAll(/<(\w+)>|(\S)/g)].reduce((now, [, name, sign]) => {
    const command = commandOf({ key: name ?? sign ?? '' });
    if (!command) throw new Error(`nothing for ${name ?? sign}`);
    return after(now, command);
  }, at);
}

const tune = ({ score }: At): string[] =>
  Time.melodyOf(score).notes.map(
    ({ pitches, length }) => `${pitches.join('+') || 'rest'} ${length / QUARTER}`,
  );

describe('The length of the next note', () => {
  it('is plain again where another is chosen', () => {
    expect(type(begin(), '2.').hand.length).toEqual({ base: 2, dotted: true, triplet: false });
    expect(type(begin(), '2.3').hand.length).toEqual({ base: 4, dotted: false, triplet: false });
  });
});

describe('What is typed', () => {
  it('is written in step: letters take the nearest octave and the chosen length', () => {
    const at = type(begin(), '3 c d 2 e 4 f g 3 a b');
    expect(tune(at).slice(0, 7)).toEqual(['C4 1', 'D4 1', 'E4 2', 'F4 0.5', 'G4 0.5', 'A4 1', 'B4 1']); // prettier-ignore
    expect(at.hand.at).toBe(7 * QUARTER);
  });

  it('goes up and down, dotted and in triplets, with rests', () => {
    const at = type(begin(), '3 . g . 4 a 3 0 t c d e');
    expect(tune(at).slice(0, 3)).toEqual(['G4 1.5', 'A4 0.5', 'rest 1']);
    const third = Time.melodyOf(at.score).notes[3];
    expect(third).toMatchObject({ length: (QUARTER * 2) / 3, tuplet: { actual: 3, normal: 2 } });
  });

  it('after the last bar puts a bar there first', () => {
    const start = begin();
    const end = { ...start, hand: { ...start.hand, at: Time.endOf(start.score) } };
    const at = type(end, 'g');
    expect(at.score.bars).toHaveLength(5);
    expect(at.score.bars.at(-1)?.line).toBe('final');
  });

  it('corrects the note that was just written: octave, step, accidental', () => {
    expect(tune(type(begin(), 'g <ArrowUp>'))[0]).toBe('A4 1');
    expect(tune(type(begin(), 'f #'))[0]).toBe('F#4 1');
    expect(tune(type(begin(), 'b _'))[0]).toBe('Bb4 1');
    expect(tune(type(begin(), 'f # n'))[0]).toBe('F4 1');
  });

  it('holds a note on by a tie', () => {
    const at = type(begin(), '1 g 2 -');
    expect(Time.melodyOf(at.score).notes[0]).toMatchObject({ pitches: ['G4'], tie: true });
    expect(tune(at)[1]).toBe('G4 2');
  });

  it('is erased backwards, note by note', () => {
    const at = type(begin(), 'c d e <Backspace>');
    expect(tune(at).slice(0, 2)).toEqual(['C4 1', 'D4 1']);
    expect(tune(at)[2]).toMatch(/^rest/);
    expect(at.hand.at).toBe(2 * QUARTER);
  });

  it('changes the length of a note that is there', () => {
    const at = type(begin(), 'c d <ArrowLeft> 2 x');
    expect(tune(at)[1]).toBe('D4 2');
  });

  it('joins a note to the one before with Shift', () => {
    const at = after(type(begin(), 'c'), { to: 'letter', letter: 'E', add: true });
    expect(tune(at)[0]).toBe('C4+E4 1');
  });

  it('does nothing where there is nothing, and says so', () => {
    const { score, hand } = begin();
    expect(doing(score, hand, { to: 'alter', alter: 1 })).toMatchObject({
      edits: [],
      words: 'There is no note here to change.',
    });
    expect(doing(score, hand, { to: 'voice', direction: 1 }).words).toBe(
      'This song has one voice.',
    );
  });
});

describe('The hand', () => {
  it('goes from note to note and from bar to bar, and stops at the ends', () => {
    const { score, hand } = type(begin(), 'c d');
    expect(moved(score, hand, -1).at).toBe(QUARTER);
    expect(movedByBar(score, hand, 1).at).toBe(4 * QUARTER);
    expect(movedByBar(score, hand, -1).at).toBe(0);
    expect(moved(score, { ...hand, at: 0 }, -1).at).toBe(0);
    const end = { ...hand, at: Time.endOf(score) };
    expect(moved(score, end, 1).at).toBe(end.at);
    expect(sayHand(score, end, 1)).toBe('after the last bar');
  });

  it('says what stands there', () => {
    const { score, hand } = type(begin(), '. g');
    expect(sayHand(score, { ...hand, at: 0 }, 1)).toBe('bar 1, beat 1: G4, dotted quarter');
  });

  it('counts eighths where three are a beat, and says the same place as undo does', () => {
    const { score: song, hand } = begin();
    const meter = { beats: 9, unit: 8 };
    const done = Editing.apply(song, { do: 'together', edits: [{ do: 'meter', bar: 0, meter }, { do: 'pickup', length: QUARTER / 2 }] }); // prettier-ignore
    if (!done.ok) throw new Error('no meter');
    const score = done.value;
    const second = QUARTER / 2;
    expect(sayHand(score, { ...hand, at: 0 }, 1)).toBe(
      'the pickup, eighth 9: a rest, a whole pickup',
    );
    expect(sayHand(score, { ...hand, at: second }, 1)).toBe('bar 1, eighth 1: a rest, a whole bar');
    const edit: Edit = { do: 'note', voice: hand.voice, at: second + 3 * QUARTER, length: QUARTER / 2, pitches: ['G4'] }; // prettier-ignore
    expect(Editing.say(score, edit)).toBe('Bar 1, eighth 7: G4, an eighth');
    const half = Editing.apply(song, { do: 'pickup', length: QUARTER / 2 });
    if (!half.ok) throw new Error('no pickup');
    const here = sayHand(half.value, { ...hand, at: 0 }, 1);
    expect(here).toBe('the pickup, beat 4½: a rest, a whole pickup');
  });

  it('stays in the song when the song becomes shorter', () => {
    const { score, hand } = begin();
    const done = Editing.apply(score, { do: 'remove bars', from: 2, to: 4 });
    if (!done.ok) throw new Error('not removed');
    const end = Time.endOf(done.value);
    expect(settled(done.value, { ...hand, at: Time.endOf(score) }).at).toBe(end);
  });
});
