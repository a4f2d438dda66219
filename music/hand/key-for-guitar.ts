import { say as sayChord, transpose } from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import { intervalUp } from '../pitch/interval.ts';
import { keysToOffer, sameKey, type Key } from '../pitch/key.ts';
import { pitchClassOf } from '../pitch/pitch.ts';
import { openShapeOf } from './guitar-chords.ts';
import { byCapo, type PlayedKey } from './played-key.ts';

/** A chord of the shapes that needs a barre, and how often the hand goes to it. */
export interface BarreChord {
  /** As the guitarist reads it: `F♯m`. */
  readonly chord: string;
  readonly times: number;
}

/** A song on the guitar with the capo at one fret. */
export interface GuitarPosition {
  /** 0: no capo. */
  readonly fret: number;
  /** The key of the shapes; it sounds in the key that was asked for. */
  readonly plays: Key;
  /** Together with what sounds; null without a capo. */
  readonly capo: PlayedKey | null;
  /** How often the hand goes to a chord, each chord counted as often as it stands in the song. */
  readonly changes: number;
  /** … to one that needs a barre. */
  readonly barre: number;
  /** Those chords, most often first, then as they first come. */
  readonly barreChords: readonly BarreChord[];
}

export interface KeyForGuitar {
  readonly sounds: Key;
  readonly best: GuitarPosition;
  /** Every fret that the capo may sit at, from none up. */
  readonly positions: readonly GuitarPosition[];
}

/**
 * A song's chords on the guitar, at every fret that a capo may sit at. The best: the fewest changes to barre chords, then
 * the fewest different ones, then the lowest fret. Fret = sounding key less shapes, in semitones.
 * @param chords in order, as they sound in `sounds`
 * @param limit the highest fret for a capo; 0: none
 */
export function keyForGuitar(
  chords: readonly Chord[],
  sounds: Key,
  limit: 0 | 5 | 7,
): KeyForGuitar {
  const positions = Array.from({ length: limit + 1 }, (_, fret) =>
    positionAt(chords, sounds, fret),
  );
  const best = positions.reduce((a, b) => (compare(b, a) < 0 ? b : a));
  return { sounds, best, positions };
}

const compare = (a: GuitarPosition, b: GuitarPosition): number =>
  a.barre - b.barre || a.barreChords.length - b.barreChords.length || a.fret - b.fret;

function positionAt(chords: readonly Chord[], sounds: Key, fret: number): GuitarPosition {
  const plays = fret === 0 ? sounds : shapesFor(sounds, fret);
  const interval = intervalUp(sounds.tonic, plays.tonic);
  const times = new Map<string, number>();
  for (const chord of chords) {
    const shape = fret === 0 ? chord : transpose(chord, interval);
    if (openShapeOf(shape) !== null) continue;
    const name = sayChord({ ...shape, bass: null });
    times.set(name, (times.get(name) ?? 0) + 1);
  }
  const barreChords = [...times].map(([chord, count]) => ({ chord, times: count }));
  return {
    fret,
    plays,
    capo: fret === 0 ? null : byCapo(sounds, plays, fret),
    changes: chords.length,
    barre: barreChords.reduce((sum, each) => sum + each.times, 0),
    barreChords: barreChords.sort((a, b) => b.times - a.times),
  };
}

/** The key that sounds in `sounds` with the capo at a fret, in its usual spelling. */
function shapesFor(sounds: Key, fret: number): Key {
  const pitchClass = (pitchClassOf(sounds.tonic) - fret + 12) % 12;
  const found = keysToOffer(sounds.mode).find(({ tonic }) => pitchClassOf(tonic) === pitchClass);
  if (!found || sameKey(found, sounds)) throw new RangeError(`no shapes for fret ${fret}`);
  return found;
}
