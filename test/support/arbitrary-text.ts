import fc from 'fast-check';
import { integer, mulberry32, pick, type Chance } from '#test/support/chance.ts';

/** A song as people type it, chords above the words. Invented data, for properties only. */
export const anyWordsText: fc.Arbitrary<string> = fc
  .integer({ min: 1, max: 2 ** 31 - 1 })
  .map((seed) => wordsTextFrom(mulberry32(seed)));

const WORDS =
  'lamp morning river over the stone home ’tis don’t “light” O bread, still; évening été 光 こころ naïve harbour I wonderful'.split(
    ' ',
  );
const CHORDS = 'G C D7 Am F#m7b5 Bb/D Esus4 A N.C. Ebmaj7 C#dim7 G+'.split(' ');

function chordsOver(words: string, chance: Chance): string {
  let line = '';
  let at = integer(chance, 0, 6);
  while (at < words.length + 6) {
    line = line.padEnd(at) + pick(chance, CHORDS);
    at = line.length + integer(chance, 1, 12);
  }
  return line;
}

function stanza(chance: Chance): string[] {
  return Array.from({ length: integer(chance, 1, 4) }, (_, i) => {
    const count = integer(chance, 3, 9);
    const words = Array.from({ length: count }, () => pick(chance, WORDS)).join(' ');
    const indent = ' '.repeat(chance() < 0.2 ? integer(chance, 1, 9) : 0);
    if (chance() < 0.12) return `| ${pick(chance, CHORDS)} | ${pick(chance, CHORDS)} |\n`;
    if (chance() < 0.15) return i === 0 ? `${indent}${words}` : `\n${indent}${words}`;
    const times = chance() < 0.1 ? `  x${integer(chance, 2, 3)}` : '';
    return `${chordsOver(indent + words, chance)}\n${indent}${words}${times}`;
  });
}

export function wordsTextFrom(chance: Chance): string {
  const blocks = chance() < 0.8 ? ['A Song of the House'] : ['Title: A Song\nKey: Em\nTempo: 80'];
  const verses = integer(chance, 1, 3);
  const refrain = stanza(chance).join('\n');
  const name = pick(chance, ['Refrain', 'CHORUS:', 'Chorus']);
  for (let verse = 1; verse <= verses; verse += 1) {
    blocks.push(`Verse ${verse}\n${stanza(chance).join('\n')}`);
    if (chance() < 0.6) blocks.push(verse === 1 || chance() < 0.3 ? `${name}\n${refrain}` : name);
  }
  if (chance() < 0.3) blocks.push(`Key: F\n\nBridge\n${stanza(chance).join('\n')}`);
  return `${blocks.join('\n\n')}\n`;
}
