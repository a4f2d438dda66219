import { sameKey, sayKey, sayNote as sayPitch } from '../pitch/key.ts';
import type { KeyInRoom, NoteInRoom } from './room-row.ts';
import { sayBeats } from './say-beats.ts';

/** `84 %`, with a space that does not break. @param share 0–1 */
export function percent(share: number): string {
  return `${Math.round(100 * share)}\u00a0%`;
}

const sayBar = ({ bar }: NoteInRoom): string => (bar === 0 ? 'the pickup' : `bar ${bar}`);

/** `bar 5, D5, one beat: 41 % of the room` */
export function sayNote(note: NoteInRoom): string {
  const { pitch, felt, share } = note;
  return `${sayBar(note)}, ${sayPitch(pitch)}, ${sayBeats(felt)}: ${percent(share)} of the room`;
}

/** What a key is worth in people times time. */
export function sayShare({ key, share }: KeyInRoom): string {
  return `In ${sayKey(key)} ${percent(share)} of the room is expected to sing in comfort, over the time of the whole tune.`;
}

/** Where the fewest are left, with bar, pitch and length. */
export function sayThinnest({ thinnest }: KeyInRoom): string {
  const { pitch, felt, share } = thinnest;
  return `Fewest are left in ${sayBar(thinnest)}: ${percent(share)} on the ${sayPitch(pitch)} of ${sayBeats(felt)}.`;
}

/** Which key keeps the most of the room, of equals the lower one, and how much that is against the chosen one; null: no keys. */
export function sayMost(rows: readonly KeyInRoom[], chosen: KeyInRoom): string | null {
  const [first, ...others] = rows;
  if (!first) return null;
  const most = others.reduce((best, row) => (row.share >= best.share ? row : best), first);
  if (sameKey(most.key, chosen.key)) return 'No other key keeps more of the room.';
  const more = Math.round(100 * most.share) - Math.round(100 * chosen.share);
  if (more === 0) return `${sayKey(most.key)} would keep as many, within one in a hundred.`;
  const points = more === 1 ? 'one person in a hundred more' : `${more} people in a hundred more`;
  return `${sayKey(most.key)} would keep the most: ${percent(most.share)}, ${points}.`;
}
