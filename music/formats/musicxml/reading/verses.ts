import type { Verse } from '../../../score/score.ts';
import type { ReadPart } from './read-part.ts';

/** The verses under the notes as the file names them, in order: by number, others as they come. */
export function verseNames(parts: readonly ReadPart[]): string[] {
  const names = new Set(
    parts.flatMap(({ notes }) => notes.flatMap(({ lyrics }) => lyrics.map(({ verse }) => verse))),
  );
  const isNumber = (name: string): boolean => /^\d{1,4}$/.test(name);
  const numbers = [...names].filter(isNumber).sort((a, b) => Number(a) - Number(b));
  return [...numbers, ...[...names].filter((name) => !isNumber(name))].slice(0, MOST_VERSES);
}

/** More lines of words than this nobody could print under a staff. */
export const MOST_VERSES = 64;

/** `1.` before the first syllable of a line, with a space that does not break or after a point. */
const LABEL = /^(\d{1,3}[.):]?)\u00a0+(?=\S)|^(\d{1,3}[.):])\s+(?=\S)/;

/** Takes the labels off the first syllables; what each verse is called. */
export function takeLabels(
  parts: readonly ReadPart[],
  names: readonly string[],
  known: readonly Verse[],
): string[] {
  const labels = names.map(() => '');
  for (const { notes } of parts) {
    const seen = new Set<string>();
    for (const note of notes) {
      note.lyrics.forEach((lyric, place) => {
        const key = `${note.voice} ${lyric.verse}`;
        const index = names.indexOf(lyric.verse);
        if (seen.has(key) || index < 0) return;
        seen.add(key);
        const own = known[index]?.label ?? '';
        const match = LABEL.exec(lyric.text);
        const found =
          own !== '' && lyric.text.startsWith(`${own}\u00a0`) ? own : (match?.[1] ?? match?.[2]);
        if (found === undefined) return;
        const rest =
          found === own ? lyric.text.slice(own.length + 1) : lyric.text.slice(match?.[0].length);
        labels[index] ||= found;
        note.lyrics[place] = { ...lyric, text: rest };
      });
    }
  }
  return labels;
}

const numberIn = (label: string): number | null => {
  const match = /^(\d{1,3})/.exec(label);
  return match ? Number(match[1]) : null;
};

/** The verses of a song: those under the notes, then those printed below. */
export function versesOf(
  labels: readonly string[],
  printed: ReadonlyMap<number, readonly string[]>,
): Verse[] {
  const sung = labels.map((label, i): Verse => {
    const number = numberIn(label) ?? i + 1;
    const lines = printed.get(number);
    return lines ? { number, label, lines } : { number, label };
  });
  const below = [...printed].filter(([number]) => !sung.some((verse) => verse.number === number));
  return [
    ...sung,
    ...below.map(([number, lines]): Verse => ({ number, label: `${String(number)}.`, lines })),
  ];
}
