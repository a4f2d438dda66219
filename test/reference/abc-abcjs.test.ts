import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Abc, type Score } from '#music';
import { readByAbcjs } from '#test/support/abcjs-reader.ts';
import { hymn } from '#test/support/hymn.ts';

// Independent reading: abcjs 6.7.2, parseOnly.
const folder = new URL('../../seed-data/hymns/', import.meta.url);
const files = readdirSync(folder).filter((file) => file.endsWith('.abc'));

function notesOf(score: Score): unknown {
  return score.voices.map((voice) =>
    voice.notes
      .filter((note) => note.pitches.length > 0)
      .map(({ at, length, pitches, tie }) => ({ at, length, pitches, tied: tie === true })),
  );
}

function syllablesOf(score: Score): number[][] {
  return score.voices.map((voice) => {
    const counts: number[] = [];
    for (const note of voice.notes) {
      note.syllables?.forEach((syllable, verse) => {
        counts[verse] = (counts[verse] ?? 0) + (syllable ? 1 : 0);
      });
    }
    return counts;
  });
}

describe('Every voice is written as an independent reader (abcjs) has it', () => {
  it.each(files)('%s: the same notes at the same moments, the same number of syllables', (file) => {
    const score = hymn(file);
    const theirs = readByAbcjs(readFileSync(new URL(file, folder), 'latin1'));
    expect(notesOf(score)).toEqual(theirs.map((voice) => voice.notes));
    expect(syllablesOf(score)).toEqual(theirs.map((voice) => voice.syllables));
  });

  it.each(files)('%s as we write it: abcjs reads the same notes and syllables', (file) => {
    const score = hymn(file);
    const theirs = readByAbcjs(Abc.write(score));
    expect(theirs.map((voice) => voice.notes)).toEqual(notesOf(score));
    expect(theirs.map((voice) => voice.syllables)).toEqual(syllablesOf(score));
  });
});

/** Pieces made up for the constructs that no hymn has; abcjs says what they mean. */
const pieces: readonly (readonly [what: string, body: string])[] = [
  [
    'triplets and a quintuplet',
    'M:4/4\nL:1/8\nK:C\n(3cde (3efg c2 (5cdefg | (3c2d2e2 (3:2:2c2d z4 |]',
  ],
  ['duplets in 6/8', 'M:6/8\nL:1/8\nK:G\n(2AB (4cdef | (2A2B2 (3ABA z2 |]'],
  ['broken rhythm', 'M:4/4\nL:1/8\nK:D\nA>B c<d e>>f g<<a | A3>B c>d z2 |]'],
  ['chords with lengths', 'M:4/4\nL:1/4\nK:F\n[FAc]2 [C/E/][DF]/ [CE]| [FAcf]4 |]'],
  ['lengths by slashes', 'M:2/4\nL:1/4\nK:C\nA/ B// c3/4 d3// | e/4e/8e/8 f/ g |]'],
  ['accidentals through the bar and after it', 'M:4/4\nL:1/4\nK:Bb\n^F F =B B | F B _A A |]'],
  ['ties over bar lines keep their accidental', 'M:2/4\nL:1/4\nK:C\nA ^f- | f f | _B2- | B2 |]'],
  [
    'changes of key and unit inside',
    'M:4/4\nL:1/4\nK:C\nF4 | [K:G] F4 | [L:1/8] F4 B4 | [K:Eb] B4 E4 |]',
  ],
  ['two octaves up and two down', "M:4/4\nL:1/4\nK:C\nc' c'' C, C,, | B,,, b' z2 |]"],
  ['modes', 'M:4/4\nL:1/4\nK:D dor\nB F C E |[K:E phr] F C G A |[K:F lyd] B4 |[K:G mix] F4 |]'],
  ['accidentals added to the key', 'M:4/4\nL:1/4\nK:D phr ^f\nE F G A | B c d2 |]'],
  ['double accidentals', 'M:4/4\nL:1/4\nK:C\n^^F __B =F B | ^^C C z2 |]'],
];

describe('Constructs that no hymn has mean what abcjs makes of them', () => {
  it.each(pieces)('%s', (_, body) => {
    const text = `X:1\nT:Piece\n${body}\n`;
    const read = Abc.read(text);
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    const [score] = read.value;
    expect(score && notesOf(score)).toEqual(readByAbcjs(text).map((voice) => voice.notes));
  });
});
