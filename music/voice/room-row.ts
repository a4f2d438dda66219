import type { Key } from '../pitch/key.ts';
import type { PitchName } from '../pitch/pitch.ts';
import type { Ticks } from '../score/score.ts';
import type { RoomGroupId } from './room-groups.ts';

/** A note of the tune and how much of the room is expected to sing it in comfort. */
export interface NoteInRoom {
  readonly at: Ticks;
  readonly length: Ticks;
  /** As it is printed in the key. */
  readonly pitch: PitchName;
  /** Number of the bar where it begins; 0: the pickup. */
  readonly bar: number;
  /** Its length in felt beats, times `FELT_BEAT`. */
  readonly felt: number;
  /** 0–1. */
  readonly share: number;
}

/** A key as the room sings it. */
export interface KeyInRoom {
  readonly key: Key;
  /** Semitones from the written key, the nearer way: −6…6. */
  readonly up: number;
  /** People times time: the mean of the share over the time that is sung, 0–1. */
  readonly share: number;
  /** The note where the fewest sing in comfort, of equals the longest, then the first. */
  readonly thinnest: NoteInRoom;
  /** For each group with a share of the room, its own mean, 0–1. */
  readonly groups: readonly { readonly group: RoomGroupId; readonly share: number }[];
}
