import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { read as readChord, write as writeChord } from '../pitch/chord-symbol.ts';
import { check } from '../score/check-score.ts';
import { QUARTER, type Note, type Score } from '../score/score.ts';
import { apply, blank, say, stepped, after, before, type Edit } from './editing.ts';

const chordOf = (symbol: string) => {
  const read = readChord(symbol);
  return read.ok ? read.value : null;
};
const tune = buildScore({
  key: 'G',
  meter: '4/4',
  voices: { tune: 'D4 | G4 A4 B4 C5 | D5:4~ | D5:4 | E5:3' },
  chords: [
    [1, chordOf('G')],
    [5, chordOf('D7')],
  ],
});

function edited(score: Score, edit: Edit): Score {
  const result = apply(score, edit);
  if (!result.ok) throw new Error(result.problems[0]?.message);
  expect(check(result.value)).toEqual([]);
  return result.value;
}

function refusal(score: Score, edit: Edit): string {
  const result = apply(score, edit);
  return result.ok ? 'done' : (result.problems[0]?.message ?? '');
}

/** Bars with their numbers and lengths in quarters, then what the tune does in them. */
function told(score: Score): string {
  return score.bars
    .map(({ number, at, length }) => {
      const notes = score.voices[0]?.notes.filter((note) => note.at >= at && note.at < at + length);
      return `${number}[${(notes ?? []).map(sayNote).join(' ')}]`;
    })
    .join(' ');
}

function sayNote({ pitches, length, tie }: Note): string {
  return `${pitches.join('+') || 'r'}:${length / QUARTER}${tie ? '~' : ''}`;
}

const chords = (score: Score): string =>
  score.chords.map(({ at, length, chord }) => `${chord ? writeChord(chord) : '-'} ${at / QUARTER}+${length / QUARTER}`).join(', '); // prettier-ignore

describe('bars', () => {
  it('put in are rests of the meter there; later ones are numbered on, the chord before lasts through', () => {
    const more = edited(tune, { do: 'insert bars', bar: 2, count: 1 });
    expect(told(more)).toBe('0[D4:1] 1[G4:1 A4:1 B4:1 C5:1] 2[r:4] 3[D5:4~] 4[D5:4] 5[E5:3]');
    expect(chords(more)).toBe('G 1+8, D7 9+11');
  });

  it('a note that is tied over the bar line is held through', () => {
    expect(told(edited(tune, { do: 'insert bars', bar: 3, count: 1 }))).toBe(
      '0[D4:1] 1[G4:1 A4:1 B4:1 C5:1] 2[D5:4~] 3[D5:4~] 4[D5:4] 5[E5:3]',
    );
  });

  it('taken out take their notes, words and chords with them', () => {
    const less = edited(tune, { do: 'remove bars', from: 1, to: 3 });
    expect(told(less)).toBe('0[D4:1] 1[D5:4] 2[E5:3]');
    expect(chords(less)).toBe('D7 1+7');
    expect(refusal(tune, { do: 'remove bars', from: 0, to: 5 })).toBe('A song keeps at least one bar.'); // prettier-ignore
  });

  it('before a pickup are refused', () => {
    expect(refusal(tune, { do: 'insert bars', bar: 0, count: 1 })).toMatch(/^The song begins with a pickup\./); // prettier-ignore
  });

  it('a pickup comes, grows and goes', () => {
    const silent = edited(tune, { do: 'erase', voice: 'tune', at: 0 });
    const none = edited(silent, { do: 'pickup', length: 0 });
    expect(told(none)).toBe('1[G4:1 A4:1 B4:1 C5:1] 2[D5:4~] 3[D5:4] 4[E5:3]');
    expect(told(edited(none, { do: 'pickup', length: 2 * QUARTER }))).toMatch(/^0\[r:2\] 1\[G4/);
    expect(told(edited(tune, { do: 'pickup', length: 2 * QUARTER }))).toMatch(/^0\[r:1 D4:1\] 1\[/);
    expect(refusal(tune, { do: 'pickup', length: 4 * QUARTER })).toBe('A pickup is shorter than a bar.'); // prettier-ignore
  });

  it('a pickup that sounds is not taken away with its notes', () => {
    expect(refusal(tune, { do: 'pickup', length: 0 })).toBe('D4 in the pickup, beat 4 would go with it. Make that a rest first, or leave the pickup so long.'); // prettier-ignore
    const two = edited(tune, { do: 'pickup', length: 2 * QUARTER });
    expect(told(edited(two, { do: 'pickup', length: QUARTER }))).toBe(told(tune));
  });

  it('of another meter are tied over the new lines and whole again in the old one', () => {
    const three = edited(tune, { do: 'meter', bar: 0, meter: { beats: 3, unit: 4 } });
    expect(told(three)).toBe('0[D4:1] 1[G4:1 A4:1 B4:1] 2[C5:1 D5:2~] 3[D5:3~] 4[D5:3] 5[E5:3]');
    expect(told(edited(three, { do: 'meter', bar: 0, meter: { beats: 4, unit: 4 } }))).toBe(
      '0[D4:1] 1[G4:1 A4:1 B4:1 C5:1] 2[D5:4~] 3[D5:4] 4[E5:3]',
    );
  });

  it('a repeat that would fall inside a bar is refused with its bar', () => {
    const again = edited(tune, { do: 'repeat', bar: 2, end: true });
    expect(again.bars[2]?.repeatEnd).toBe(true);
    expect(refusal(again, { do: 'meter', bar: 0, meter: { beats: 3, unit: 4 } })).toBe(
      'In 3/4 the repeat or ending at bar 2 would fall inside a bar; take it away first.',
    );
  });
});

describe('keys', () => {
  it('change from a bar on and back, and leave the pitches', () => {
    const two = edited(tune, { do: 'key', bar: 2, key: { tonic: 'E', mode: 'minor' } });
    expect(two.keys.map(({ at, signature }) => [at / QUARTER, signature])).toEqual([[0, 1], [5, 1]]); // prettier-ignore
    expect(edited(two, { do: 'key', bar: 2, key: null })).toEqual(tune);
    expect(refusal(tune, { do: 'key', bar: 2, key: null })).toBe('No key changes at bar 2.');
    expect(refusal(tune, { do: 'key', bar: 0, key: null })).toBe('A song has a key from its start on.'); // prettier-ignore
    expect(refusal(tune, { do: 'key', bar: 0, key: { tonic: 'D#', mode: 'major' } })).toBe('D♯ major has nine sharps; say E♭ major.'); // prettier-ignore
  });

  it('a stretch moves with its chords, and what follows is again in the key it was', () => {
    const changed = edited(tune, { do: 'key', bar: 4, key: { tonic: 'C', mode: 'major' } });
    const moved = edited(changed, { do: 'move to key', bar: 3, key: { tonic: 'A', mode: 'major' } }); // prettier-ignore
    expect(told(moved)).toBe('0[D4:1] 1[G4:1 A4:1 B4:1 C5:1] 2[D5:4~] 3[E5:4] 4[E5:3]');
    expect(chords(moved)).toBe('G 1+4, D7 5+4, E7 9+4, D7 13+3');
    expect(moved.keys.map(({ at, key }) => `${at / QUARTER} ${key.tonic}`)).toEqual(['0 G', '9 A', '13 C']); // prettier-ignore
    expect(refusal(tune, { do: 'move to key', bar: 2, key: { tonic: 'A', mode: 'minor' } })).toBe('Bar 2 is in G major; it can be moved to another major key.'); // prettier-ignore
  });
});

describe('a new song', () => {
  const empty = blank({ title: 'New', key: { tonic: 'F', mode: 'major' }, meter: { beats: 3, unit: 4 }, bars: 2 }); // prettier-ignore

  it('is whole, and rests', () => {
    expect(check(empty)).toEqual([]);
    expect(told(empty)).toBe('1[r:3] 2[r:3]');
    expect(empty.keys[0]?.signature).toBe(-1);
  });

  it('is written in step; where notes run over the end, a bar is put there in the same step', () => {
    let score = empty;
    let at = 0;
    for (const [pitch, quarters] of [['F4', 1], ['G4', 2], [null, 2], ['A4', 2], [['F4', 'C5'], 1]] as const) {
      const step = stepped(score, { voice: 'melody', at }, pitch, quarters * QUARTER);
      score = edited(score, step.edit);
      at = step.next;
    }
    expect(told(score)).toBe('1[F4:1 G4:2] 2[r:2 A4:1~] 3[A4:1 F4+C5:1 r:1]');
    expect(at).toBe(8 * QUARTER);
    expect(after(score, 'melody', QUARTER)).toBe(3 * QUARTER);
    expect(before(score, 'melody', QUARTER)).toBe(0);
    expect(after(score, 'melody', 8 * QUARTER)).toBe(9 * QUARTER);
    const over = stepped(score, { voice: 'melody', at: 9 * QUARTER }, 'C5', QUARTER);
    expect(say(score, over.edit)).toBe('One bar put in at the end. Bar 4, beat 1: C5, a quarter');
  }); // prettier-ignore
});
