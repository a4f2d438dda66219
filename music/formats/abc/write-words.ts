import type { Score, Verse } from '../../score/score.ts';
import { sungPasses } from '../../score/sung-lines.ts';
import { escaped } from './text.ts';
import type { Piece } from './write-notes.ts';

/**
 * The `w:` lines under a line of music, a verse each; a verse's label stands before its first words. ABC has no words at rests, where
 * a song without time has all of them, so that those are a directive of our own.
 */
export function wordLines(
  pieces: readonly Piece[],
  { verses, untimed }: Pick<Score, 'verses' | 'untimed'>,
  labelled: Set<number>,
): string[] {
  const notes = untimed ? pieces : pieces.filter((piece) => piece.pitches.length > 0);
  const count = notes.reduce((most, note) => Math.max(most, lastSung(note)), 0);
  const lines: string[] = [];
  for (let verse = 0; verse < count; verse += 1) {
    const words: string[] = [];
    let end = 0;
    for (const note of notes) {
      const syllable = note.syllables?.[verse];
      if (!syllable) {
        const isHeld = note.held?.includes(verse) === true;
        words.push(isHeld ? '_' : '*');
        if (isHeld) end = words.length;
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
    const name = untimed ? '%%partbook-words ' : 'w:';
    lines.push(`${name}${words.slice(0, Math.max(1, end)).join(' ')}`);
  }
  return lines;
}

function lastSung(note: Piece): number {
  const sung = (note.syllables?.findLastIndex((syllable) => syllable !== null) ?? -1) + 1;
  return Math.max(sung, ...(note.held ?? []).map((verse) => verse + 1));
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

/** The words of a song without time as other programs show them: below the music, each section once. */
export function textLines(score: Score): string[] {
  const seen = new Set<string>();
  return sungPasses(score).flatMap(({ section, name, lines }) => {
    const text = lines.map((line) => line.map((piece) => piece.text + (piece.goesOn ? '' : ' ')).join('').trim()); // prettier-ignore
    const sung = text.filter((each) => each !== '');
    if (seen.has(section.id) || sung.length === 0) return [];
    seen.add(section.id);
    return ['W:', `W:${escaped(name)}`, ...sung.map((each) => `W:${escaped(each)}`)];
  });
}
