import { readFileSync } from 'node:fs';
import { Abc, ChordSymbol, Editing, QUARTER, type Edit, type Score } from '#music';
import { buildScore } from '#test/support/score-builder.ts';
import { describe, expect, it } from 'vitest';
import { atChord, beside, doingChords } from './edit-chord-doing.ts';
import {
  chordEdit,
  chordTextAt,
  prettyChord,
  typedChord,
  usualChords,
  withFoundChords,
} from './edit-chords.ts';
import { QUARTER_NOTE } from './edit-length.ts';
import { sayHand, settled, type Hand } from './edit-place.ts';

const semibreve = buildScore({ key: 'G', meter: '4/4', voices: { tune: 'A4:4 | r:4' } });
const handAt = (score: Score, quarters: number): Hand => ({
  voice: score.melody,
  at: quarters * QUARTER,
  length: QUARTER_NOTE,
});

function after(score: Score, ...edits: readonly (Edit | null)[]): Score {
  return edits.reduce((now: Score, edit) => {
    if (!edit) throw new Error('nothing is done');
    const done = Editing.apply(now, edit);
    if (!done.ok) throw new Error(done.problems[0]?.message);
    return done.value;
  }, score);
}

const told = ({ chords }: Score): string =>
  chords
    .map(({ at, length, chord, guess }) => {
      const name = chord ? ChordSymbol.write(chord) : 'N.C.';
      return `${name}${guess ? '?' : ''} ${at / QUARTER}+${length / QUARTER}`;
    })
    .join(', ');

describe('The hand at the chords', () => {
  it('stands on any beat under a note that is held, where a note has only its start', () => {
    expect(atChord(semibreve, handAt(semibreve, 2)).at).toBe(2 * QUARTER);
    expect(settled(semibreve, handAt(semibreve, 2)).at).toBe(0);
    expect(sayHand(semibreve, handAt(semibreve, 2), 1)).toBe('bar 1, beat 3: under A4');
  });

  it('stands on the last beat where it was after the last bar', () => {
    expect(atChord(semibreve, handAt(semibreve, 8)).at).toBe(7 * QUARTER);
  });

  it.each([
    [{ to: 'move', by: 'note', direction: 1 }, 3],
    [{ to: 'move', by: 'note', direction: -1 }, 1],
    [{ to: 'move', by: 'half beat', direction: 1 }, 2.5],
    [{ to: 'move', by: 'half beat', direction: -1 }, 1.5],
    [{ to: 'move', by: 'bar', direction: 1 }, 4],
    [{ to: 'move', by: 'bar', direction: -1 }, 0],
    [{ to: 'go', end: 'start' }, 0],
  ] as const)('goes by %o from beat 3 to quarter %f', (command, quarter) => {
    const does = doingChords(semibreve, handAt(semibreve, 2), command);
    expect(does.hand.at).toBe(quarter * QUARTER);
    expect(does.edits).toEqual([]);
  });

  it('takes a chord away, and touches no note', () => {
    const score = after(semibreve, chordEdit(semibreve, 2 * QUARTER, 'D7'));
    const { edits } = doingChords(score, handAt(score, 2), { to: 'erase' });
    expect(after(score, ...edits)).toEqual(semibreve);
    expect(doingChords(score, handAt(score, 1), { to: 'erase' })).toMatchObject({
      edits: [],
      words: 'No chord begins here.',
    });
    expect(doingChords(score, handAt(score, 2), { to: 'rest' }).edits).toEqual([]);
  });
});

describe('A chord that is typed', () => {
  it('stands under a held note beside the one before: Am, then D7 on the third beat', () => {
    const am = typedChord(semibreve, 0, 'Am');
    const first = after(semibreve, 'edit' in am ? am.edit : null);
    expect(beside(first, QUARTER, 1)).toBe(2 * QUARTER);
    const d7 = typedChord(first, 2 * QUARTER, 'D7');
    const score = after(first, 'edit' in d7 ? d7.edit : null);
    expect(told(score)).toBe('Am 0+2, D7 2+6');
    expect(score.voices).toEqual(semibreve.voices);
    expect(chordTextAt(score, 2 * QUARTER)).toBe('D7');
  });

  it('is read, taken away where it is emptied, left where it is as before', () => {
    const score = after(semibreve, chordEdit(semibreve, 0, 'Am'));
    expect(typedChord(score, 0, ' Am ')).toEqual({ edit: null });
    expect(typedChord(score, 0, '')).toEqual({ edit: { do: 'remove chord', at: 0 } });
    expect(typedChord(score, QUARTER, '')).toEqual({ edit: null });
    expect(typedChord(score, 0, 'n.c.')).toMatchObject({ edit: { symbol: null } });
    expect(typedChord(score, 0, 'Hx')).toHaveProperty('wrong');
  });

  it('is shown with the signs of print', () => {
    expect(['F#m7b5/C#', 'Bb/Db', 'Bbb'].map(prettyChord)).toEqual(['F♯m7b5/C♯', 'B♭/D♭', 'B♭b']);
  });

  it('among chords that are found in the voices takes the place of one and leaves the others', () => {
    // “Azmon” in four voices; its chords are found, none is written.
    const bytes = readFileSync('seed-data/hymns/O_For_A_Thousand_Tongues-Azmon.abc');
    const read = Abc.read(new Uint8Array(bytes));
    const [azmon] = read.ok ? read.value : [];
    if (!azmon) throw new Error('not read');
    const before = withFoundChords(azmon);
    const score = after(azmon, chordEdit(azmon, 5 * QUARTER, 'Bb7'));
    const [mine, ...others] = withFoundChords(score).chords.filter(({ guess }) => !guess);
    expect(others).toEqual([]);
    const next = before.chords.find(({ at }) => at > 5 * QUARTER)?.at ?? 0;
    expect(mine).toMatchObject({ at: 5 * QUARTER, length: next - 5 * QUARTER });
    expect(withFoundChords(score).chords.length).toBeGreaterThan(before.chords.length - 2);
  });
});

/** Triads on the steps of the scales: common practice; lydian and dorian after their scales (F–B, D–D in C). */
describe('The usual chords', () => {
  it.each([
    ['G', 'G C D Em Am Bm D7'],
    ['E minor', 'Em Am B C G D B7'],
    ['D dorian', 'Dm G Am Bdim Em F A7'],
    ['F lydian', 'F Bdim C Dm G Am C7'],
  ])('of %s are %s', (key, chords) => {
    const score = buildScore({ key, meter: '4/4', voices: { tune: 'r:4' } });
    expect(usualChords(score, 0).join(' ')).toBe(chords);
  });
});
