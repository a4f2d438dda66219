import { REACH } from '../hand/right-hand-options.ts';
import type { Player } from './arrangement.ts';

/** What is known of a person before it is said which part they play. */
export type PlayingPerson = Omit<Player, 'role'>;

/** Nobody in particular: a beginner whose hand takes the usual octave. */
export const ANYBODY: PlayingPerson = {
  id: 'anybody',
  name: 'whoever plays',
  level: 'beginner',
  reach: REACH,
};

/**
 * For whose hands a song is laid out: the player that its arrangement names, else whoever plays. Key fit and sheet both
 * ask here, so that a key is never weighed on other hands than the page is written for.
 * @param members at least the one who is named, where that one is still there
 */
export function playerFor(
  members: readonly PlayingPerson[],
  { player }: { readonly player: string | null },
): PlayingPerson {
  const member = members.find(({ id }) => id === player) ?? ANYBODY;
  const { id, name, level, reach, instruments, voice } = member;
  return {
    id,
    name,
    level,
    reach,
    ...(instruments ? { instruments } : {}),
    ...(voice ? { voice } : {}),
  };
}
