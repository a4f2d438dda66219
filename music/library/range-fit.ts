import { keysToOffer, signatureOf, type Key } from '../pitch/key.ts';
import { midiOf, type PitchName } from '../pitch/pitch.ts';
import { interval } from '../score/transpose.ts';
import { rangeIn, type LibraryEntry } from './entry.ts';

/** What a tune must sit inside, both notes counted in; a side that is not asked for is open. */
export interface AskedRange {
  readonly low?: PitchName | undefined;
  readonly high?: PitchName | undefined;
  /** The most sharps or flats of the key's signature; missing: any. */
  readonly accidentals?: number | undefined;
}

/** A voice takes a printed tune at its pitch or an octave below. */
const OCTAVES = [0, -12];

function sits(range: NonNullable<LibraryEntry['range']>, { low, high }: AskedRange): boolean {
  const [bottom, top] = [midiOf(range.low), midiOf(range.high)];
  return OCTAVES.some(
    (octave) =>
      (low === undefined || bottom + octave >= midiOf(low)) &&
      (high === undefined || top + octave <= midiOf(high)),
  );
}

/**
 * The key in which a tune sits inside a range, of the twelve usual ones of its mode, each the nearest to the song's own as
 * songs are transposed here: the one that is nearest to the usual key, of equally near ones the one with fewer
 * accidentals, then the lower. Null: none, or it is not known how high the tune lies.
 */
export function nearest(entry: LibraryEntry, usual: Key, asked: AskedRange): Key | null {
  const fitting = keysToOffer(entry.key.mode).flatMap((key) => {
    const range = rangeIn(entry, key);
    const accidentals = Math.abs(signatureOf(key));
    if (!range || accidentals > (asked.accidentals ?? 7) || !sits(range, asked)) return [];
    const move = interval(usual, key).semitones;
    return [{ key, far: Math.abs(move), accidentals, move }];
  });
  fitting.sort((a, b) => a.far - b.far || a.accidentals - b.accidentals || a.move - b.move);
  return fitting[0]?.key ?? null;
}
