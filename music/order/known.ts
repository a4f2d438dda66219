import { say as sayChord } from '../pitch/chord-symbol.ts';
import type { PitchName } from '../pitch/pitch.ts';
import type { Part } from '../parts/part.ts';

/** A part that a person has played, and of which song. */
export interface PlayedPart {
  readonly song: string;
  readonly part: Pick<Part, 'shapes'>;
}

/** A shape of the right hand that somebody has met. */
export interface KnownShape {
  /** `B♭7/D`. */
  readonly chord: string;
  readonly notes: readonly PitchName[];
  readonly fingers: readonly number[];
  /** In how many songs. */
  readonly songs: number;
}

/** The shapes that a person has met: the same chord, notes and fingers are one; those of most songs first, then as met. */
export function of(parts: readonly PlayedPart[]): KnownShape[] {
  const met = new Map<string, { shape: Omit<KnownShape, 'songs'>; songs: Set<string> }>();
  for (const { song, part } of parts) {
    for (const { chord, notes, fingers } of part.shapes) {
      const shape = { chord: sayChord(chord), notes, fingers };
      const sign = JSON.stringify(shape);
      const before = met.get(sign);
      if (before) before.songs.add(song);
      else met.set(sign, { shape, songs: new Set([song]) });
    }
  }
  return [...met.values()]
    .map(({ shape, songs }) => ({ ...shape, songs: songs.size }))
    .sort((a, b) => b.songs - a.songs);
}
