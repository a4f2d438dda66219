import { failure, type Result } from '../result.ts';
import type { Score } from '../score/score.ts';

export interface MidiTrack {
  readonly index: number;
  readonly name: string;
  readonly notes: number;
  /** Whether two of its notes ever sound together. */
  readonly chords: boolean;
}

export interface MidiReadOptions {
  /** Index of the track with the tune; missing: the one that is most like a tune. */
  readonly melody?: number;
}

export function read(bytes: Uint8Array, options: MidiReadOptions = {}): Result<Score> {
  void options;
  return failure({ code: 'no-midi', message: `${bytes.length} bytes are not read yet.` });
}

export function tracks(bytes: Uint8Array): MidiTrack[] {
  void bytes;
  return [];
}
