import type { Verse } from '../../score/score.ts';
import type { SungVerses } from './lyrics.ts';
import { plain } from './text.ts';

/** A line of words printed below the music. */
export interface PrintedLine {
  readonly text: string;
}

/** Verses under the notes first, then those printed below: an empty line or a new number begins the next one. */
export function versesOf(sung: SungVerses, printed: readonly PrintedLine[]): Verse[] {
  const verses: Verse[] = sung.labels.map((label, i) => ({
    number: numberOf(label) ?? i + 1,
    label,
  }));
  let current: { number: number; label: string; lines: string[] } | null = null;
  for (const { text } of printed) {
    const line = plain(text).trim();
    if (line === '') {
      current = null;
      continue;
    }
    const match = /^(\d{1,3}[.):])\s*(.*)$/s.exec(line);
    if (match || !current) {
      const label = match?.[1] ?? '';
      const number: number = numberOf(label) ?? (verses.at(-1)?.number ?? 0) + 1;
      current = { number, label, lines: [] };
      verses.push(current);
      if (match && match[2] === '') continue;
    }
    current.lines.push(match ? (match[2] ?? '') : line);
  }
  return verses;
}

function numberOf(label: string): number | null {
  const match = /^(\d{1,3})/.exec(label);
  return match ? Number(match[1]) : null;
}
