import type { Score } from '#music';
import { Refusal } from './refusal.ts';

/**
 * Refuses notes for a song of words and chords alone: its places are an order and not a length, so that every length
 * on a staff or in a file would be made up.
 */
export function requireRhythm({ untimed, facts }: Score, what: string): void {
  if (!untimed) return;
  throw new Refusal(
    'not-possible',
    `“${facts.title}” has words and chords but no rhythm, so ${what}. Read it as words with chords.`,
  );
}
