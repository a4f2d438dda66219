import type { Verse } from '../../score/score.ts';
import { escaped } from './text.ts';
import type { Piece } from './write-notes.ts';

/** The `w:` lines under a line of music, a verse each; a verse's label stands before its first words. */
export function wordLines(
  pieces: readonly Piece[],
  verses: readonly Verse[],
  labelled: Set<number>,
): string[] {
  const notes = pieces.filter((piece) => piece.pitches.length > 0);
  const count = notes.reduce((most, note) => Math.max(most, lastSung(note)), 0);
  const lines: string[] = [];
  for (let verse = 0; verse < count; verse += 1) {
    const words: string[] = [];
    let end = 0;
    for (const note of notes) {
      const syllable = note.syllables?.[verse];
      if (!syllable) {
        words.push('*');
        continue;
      }
      const label = verses[verse]?.label ?? '';
      const first = !labelled.has(verse) && label !== '';
      labelled.add(verse);
      words.push(
        `${first ? `${label}~` : ''}${wordText(syllable.text)}${syllable.hyphen ? '-' : ''}`,
      );
      end = words.length;
    }
    lines.push(`w:${words.slice(0, Math.max(1, end)).join(' ')}`);
  }
  return lines;
}

function lastSung(note: Piece): number {
  return (note.syllables?.findLastIndex((syllable) => syllable !== null) ?? -1) + 1;
}

/** Signs that mean something under notes are escaped. */
function wordText(text: string): string {
  return escaped(text)
    .replace(/[*_|~]/g, (sign) => `\\u${(sign.codePointAt(0) ?? 0).toString(16).padStart(4, '0')}`)
    .replaceAll('-', '\\-')
    .replaceAll(' ', '~');
}

/** The `W:` lines of verses that are printed below the music. */
export function printedLines(verses: readonly Verse[]): string[] {
  const blocks = verses.flatMap(({ label, lines }) => {
    if (!lines) return [];
    const [first = '', ...rest] = lines;
    return [[`W:${escaped(label)}${escaped(first)}`, ...rest.map((line) => `W:${escaped(line)}`)]];
  });
  return blocks.flatMap((block, i) => (i === 0 ? block : ['W:', ...block]));
}
