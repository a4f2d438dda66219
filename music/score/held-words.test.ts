import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import * as Abc from '../formats/abc.ts';
import { heldNotes } from './held-words.ts';
import { QUARTER, type Note, type Score, type Syllable } from './score.ts';

/**
 * Five quarters with what stands under and over them: `la` a syllable, `la2` one held over two notes, `.` none, `r` a rest;
 * `(` and `)` begin and end a slur, `~` ties.
 */
function notesOf(signs: string): Note[] {
  const plain = buildScore({ key: 'C', meter: '4/4', voices: { tune: 'C4' } });
  const [first] = plain.voices[0]?.notes ?? [];
  if (!first) throw new Error('no note');
  return signs.split(' ').map((sign, i): Note => {
    const [, text = '', held] = /([a-z]+)(\d?)/.exec(sign) ?? [];
    const syllable: Syllable | null =
      text === '' || text === 'r' ? null : { text, ...(held && { held: Number(held) }) };
    return {
      at: i * QUARTER,
      length: QUARTER,
      pitches: text === 'r' ? [] : ['C4'],
      ...(syllable && { syllables: [syllable] }),
      ...(sign.includes('(') && { slurStarts: 1 }),
      ...(sign.includes(')') && { slurEnds: 1 }),
      ...(sign.includes('~') && { tie: true as const }),
    };
  });
}

function readAbc(text: string): Score {
  const read = Abc.read(text);
  const [score] = read.ok ? read.value : [];
  if (!score) throw new Error('not read');
  return score;
}

const sectionsOf = (...lengths: number[]) => {
  let to = 0;
  return lengths.map((length) => ({ from: to, to: (to += length * QUARTER) }));
};

/** The notes that are held, by number from 1. */
function held(signs: string, ...sections: number[]): string {
  const notes = notesOf(signs);
  const all = heldNotes(notes, 0, sectionsOf(...sections));
  return notes.flatMap((note, i) => (all.has(note) ? [i + 1] : [])).join(' ');
}

/**
 * Extender lines stand where one syllable is sung on several notes, which are slurred or tied (Gould, Behind Bars, “Vocal
 * music”; from memory). A note that nobody gave words yet is none of these.
 */
describe('The notes that are sung on the vowel of a syllable before them', () => {
  it.each([
    ['between two syllables all', 'la . . la', '2 3'],
    ['not over a rest', 'la . r . la', '2'],
    ['after the last syllable none that is not joined to it', 'la la . . .', ''],
    ['those that are slurred', 'la la( . ). .', '3 4'],
    ['those that a tie joins', 'la la~ .~ . .', '3 4'],
    ['a slur and then a tie', 'la( ). .', '2'],
    ['as many as the words say', 'la la2 . . .', '3 4'],
    ['a tied note is no note of its own for the words', 'la1 .~ . .', '2 3'],
    ['a slur of the syllable before does not reach on', '(la )la . .', ''],
    ['nothing before the first', '. . la', ''],
    ['nothing without words', '. . .', ''],
  ])('%s: %s', (_what, signs, expected) => {
    expect(held(signs)).toBe(expected);
  });

  it('words end with their section', () => {
    expect(held('la . la . .', 2, 3)).toBe('');
    expect(held('la . la . la', 5)).toBe('2 4');
    expect(held('la( . ). . la', 2, 3)).toBe('2 3');
  });

  /** ABC 2.1, section 5.1: `_` holds a syllable over one more note, `*` skips a note. */
  it('are read from ABC and written there', () => {
    const abc = 'X:1\nT:Held\nM:4/4\nL:1/4\nK:C\nCDEF | GABc |]\nw:la _ la la | la _ _\n';
    const read = readAbc(abc);
    const counts = (score: Score) =>
      score.voices[0]?.notes.map((note) => note.syllables?.[0]?.held ?? 0).join(' ');
    // Between two syllables the note without one says it; after the last its words do.
    expect(counts(read)).toBe('0 0 0 0 2 0 0 0');
    const held = heldNotes(read.voices[0]?.notes ?? [], 0, read.sections);
    expect([...held].map(({ at }) => at / QUARTER)).toEqual([1, 5, 6]);
    const written = Abc.write(read);
    expect(written).toMatch(/^w:la \* la la la _ _$/m);
    expect(readAbc(written).voices).toEqual(read.voices);
    expect(counts(readAbc(abc.replace('la _ _', 'la * *')))).toBe('0 0 0 0 0 0 0 0');
  });

  it('looks at the verse that is asked for', () => {
    const [first, second, third] = notesOf('la . la');
    if (!first || !second || !third) throw new Error('no notes');
    const both = [{ ...first, syllables: [{ text: 'la' }, { text: 'lo' }] }, second, third];
    expect([heldNotes(both, 0).size, heldNotes(both, 1).size]).toEqual([1, 0]);
  });
});
