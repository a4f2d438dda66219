import { VerseText, type Score } from '#music';
import { Refusal } from './refusal.ts';

function listed(numbers: readonly number[]): string {
  const [first, last] = [numbers[0] ?? 0, numbers.at(-1) ?? 0];
  if (numbers.length < 2) return `only verse ${first}`;
  return last - first === numbers.length - 1
    ? `verses ${first} to ${last}`
    : `verses ${numbers.slice(0, -1).join(', ')} and ${last}`;
}

/**
 * Refuses a verse that the song has not under its notes; missing: none is asked for. One that it has may not be sung in
 * the form at hand: that is for the sheet to answer. The first may always be asked for.
 */
export function requireVerse(score: Score, verse: number | 'all' | undefined): void {
  if (verse === undefined || verse === 'all' || verse === 1) return;
  const numbers = score.verses
    .filter((_, index) => VerseText.isUnderNotes(score, index))
    .map(({ number }) => number);
  if (numbers.includes(verse)) return;
  const { title } = score.facts;
  throw new Refusal(
    'no-such-verse',
    numbers.length === 0
      ? `“${title}” has no words under its notes, so verse ${verse} cannot stand there.`
      : `“${title}” has ${listed(numbers)} under its notes, and no verse ${verse}; choose one of those.`,
  );
}
