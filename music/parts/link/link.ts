import { between, type TempoBridge, type Way } from '../../score/ways/transition.ts';
import { sameKey, type Key } from '../../pitch/key.ts';
import { ENGLISH, type Says } from '../../pitch/says.ts';
import type { Score, Section } from '../../score/score.ts';
import { interval } from '../../score/transpose.ts';
import type { Arrangement, Onward } from '../arrangement.ts';
import { keyAtEnd, raisedKey } from '../form/keys-of-form.ts';

/** Ids of the sections after the others: the bars that are played over and over, and those that lead on. */
export const LINK = { loop: 'onward loop', on: 'onward' } as const;

export const isLink = ({ id }: Pick<Section, 'id'>): boolean => id === LINK.loop || id === LINK.on;

/** How one song goes on to the next, as whoever plays it reads it. */
export interface Link {
  readonly onward: Onward;
  readonly way: Way;
  readonly tempo: TempoBridge;
  /** The key that the song ends in, and the next one's, as they are read. */
  readonly from: Key;
  readonly to: Key;
  /** The page is read in another key than sounds. */
  readonly isRead: boolean;
}

/**
 * The way on that an arrangement names, from the key its last pass ends in; null: none is named, or the keys are no longer
 * such that there is this one.
 * @param score in its own key; its changes of tempo are those of the song
 */
export function linkOf(score: Score, arrangement: Arrangement, says: Says = ENGLISH): Link | null {
  const { onward, key } = arrangement;
  if (!onward) return null;
  const { sounds, to } = onward;
  const isRead = !sameKey(sounds, key);
  const next = isRead ? raisedKey(to.key, interval(sounds, key).semitones) : to.key;
  const from = keyAtEnd(arrangement, score);
  const transition = between({ key: from, tempo: arrangement.tempo }, { ...to, key: next }, says);
  const way = transition.ways.find(({ kind }) => kind === onward.kind);
  return way ? { onward, way, tempo: transition.tempo, from, to: next, isRead } : null;
}
