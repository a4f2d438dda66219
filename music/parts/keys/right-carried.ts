import type { Shape } from '../../hand/shape.ts';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import type { Ticks } from '../../score/score.ts';
import { barAt, type SoundingNote } from '../../score/time.ts';
import type { KeysSong } from './keys-song.ts';
import { sungBetween, tuneOf } from './right-tune.ts';

/**
 * The note of a shape that carries the tune between two moments: the one that is sung longest there, of equals the one
 * that is sung first; null where none is sung. Where the shape has it twice, the lower one, nearer the thumb.
 */
export function carrierOf(
  notes: readonly PitchName[],
  tune: readonly SoundingNote[],
  from: Ticks,
  to: Ticks,
): PitchName | null {
  const sung = sungBetween(tune, from, to);
  let [best, most]: [PitchName | null, number] = [null, 0];
  for (const [key, { ticks }] of sung) {
    const note = notes.find((each) => midiOf(each) % 12 === key);
    if (note !== undefined && ticks > most) [best, most] = [note, ticks];
  }
  return best;
}

/** For each chord of a song and a moment inside it: the note that carries the tune through that bar of the chord. */
export function carriedIn(
  { score, chords }: KeysSong,
  held: readonly Shape[],
): (chord: number, at: Ticks) => PitchName | undefined {
  const tune = tuneOf(score);
  return (index, at) => {
    const [chord, shape] = [chords[index], held[index]];
    if (!chord || !shape) return undefined;
    const bar = barAt(score, at);
    const [from, to] = [
      Math.max(chord.at, bar.at),
      Math.min(chord.at + chord.length, bar.at + bar.length),
    ];
    return carrierOf(shape.notes, tune, from, to) ?? undefined;
  };
}
