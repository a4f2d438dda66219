import type { Key } from '../pitch/key.ts';
import type { Pass, Tempo } from '../score/score.ts';
import type { Level, Role } from './part.ts';

/** A song made ready for a service: what the whole team plays, whoever plays it. */
export interface Arrangement {
  readonly key: Key;
  /** null: as the song has it. */
  readonly tempo: Tempo | null;
  /** How often a song without written chords changes its chord: at most once a bar, or once a beat. */
  readonly density: 'bar' | 'beat';
  /** The passes in the order they are played; missing: as the song has them. */
  readonly form?: readonly Pass[];
}

/** The person who plays a part. */
export interface Player {
  readonly id: string;
  readonly name: string;
  readonly role: Role;
  readonly level: Level;
  /** The widest shape one hand takes, in semitones. */
  readonly reach: number;
}

/** Who else is there this week; it decides what a player may leave to others. */
export interface Team {
  readonly roles: readonly Role[];
}
