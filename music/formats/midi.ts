import type { Result } from '../result.ts';
import type { Score } from '../score/score.ts';
import { assemble } from './midi/assemble.ts';
import { hasChords, partsOf } from './midi/parts.ts';
import { readSmf } from './midi/smf.ts';
import { writeSong, type MidiWriteOptions } from './midi/write.ts';

export type { MidiWriteOptions } from './midi/write.ts';
export { MOST_BYTES, MOST_TRACKS } from './midi/smf.ts';
export { MOST_NOTES } from './midi/smf-track.ts';
export { MOST_BARS } from './midi/frame.ts';
export { MOST_PARTS } from './midi/assemble.ts';

export interface MidiTrack {
  /** What `MidiReadOptions.melody` takes: counted from 0 over all parts with pitches; two channels of one track are two. */
  readonly index: number;
  readonly name: string;
  readonly notes: number;
  /** Whether notes of it begin together again and again. */
  readonly chords: boolean;
}

export interface MidiReadOptions {
  /** Index of the track with the tune; missing: the one that is most like a tune. */
  readonly melody?: number;
}

/**
 * A song from a Standard MIDI File (formats 0 and 1, plain or in a RIFF wrapper). MIDI holds keys, moments and lengths: how
 * notes are spelled, and where the file does not say it the key, are concluded; what was played is put on the grid of its
 * meter. Every such conclusion is a warning whose code begins with `guess-`; `info-` tells what is not kept; all others tell
 * of damage. Nothing is thrown; the work is bounded by `MOST_BYTES`, `MOST_TRACKS`, `MOST_NOTES`, `MOST_BARS` and `MOST_PARTS`.
 */
export function read(bytes: Uint8Array, options: MidiReadOptions = {}): Result<Score> {
  const smf = readSmf(bytes);
  if (!smf.ok) return smf;
  return assemble(smf.value, options.melody ?? null, smf.warnings);
}

/** What a person may choose the tune from; empty where the file cannot be read. */
export function tracks(bytes: Uint8Array): MidiTrack[] {
  const smf = readSmf(bytes);
  if (!smf.ok) return [];
  return partsOf(smf.value).parts.map((part) => ({
    index: part.index,
    name: part.name,
    notes: part.notes.length,
    chords: hasChords(part),
  }));
}

/**
 * A score as a Standard MIDI File of format 1, the time exact: 480 ticks to a quarter, or the smallest multiple that holds
 * every length. A track for what belongs to all (title, copyright, meter, key, tempo, sections), one for each voice with
 * its words, one with the chords as held notes and as text where no voice accompanies, and count-in and click, where they are asked for,
 * as tracks of their own on channel 10. The pedal is controller 64 on every channel of its instrument, soft notes are struck
 * more softly. Not written: how notes are spelled, graces, fermatas, fingers, slurs; of
 * the verses `once` writes the first.
 */
export function write(score: Score, options: MidiWriteOptions = {}): Uint8Array {
  if (score.voices.length === 0 || score.bars.length === 0) {
    throw new RangeError('a score without voices or bars cannot be written');
  }
  return writeSong(score, options);
}
