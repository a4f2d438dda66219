import { Keys, Pitches, type PitchName, type Range } from '#music';

export interface KeyboardKey {
  readonly pitch: PitchName;
  /** Semitones, C4 = 60. */
  readonly midi: number;
  readonly isBlack: boolean;
  /** Left edge, in widths of a white key from the left end of the keyboard. */
  readonly left: number;
  /** `B♭3`. */
  readonly name: string;
  /** `B flat 3`, for those who listen. */
  readonly spoken: string;
}

/** What is marked: the notes that sit easily, or the furthest ones there are. */
export type RangeKind = 'comfortable' | 'limit';
export type End = 'low' | 'high';
/** What is marked so far; an end that is not marked yet is null. */
export interface Marked {
  readonly low: PitchName | null;
  readonly high: PitchName | null;
}

/** A black key is 0.6 of a white one, as on a piano. */
export const BLACK = 0.6;
/** The black keys by the names that music in easy keys gives them (common practice). */
const NAMES = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;
/** White keys between C and each note of the octave. */
const WHITES = [0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6] as const;
const IS_BLACK = [false, true, false, true, false, false, true, false, true, false, true, false];

function whitesBelow(midi: number): number {
  return 7 * Math.floor(midi / 12) + (WHITES[midi % 12] ?? 0);
}

/** The keys from one note to another, whole white keys at both ends. */
export function keysBetween(low: PitchName, high: PitchName): KeyboardKey[] {
  let [first, last] = [Pitches.midiOf(low), Pitches.midiOf(high)];
  if (IS_BLACK[first % 12]) first -= 1;
  if (IS_BLACK[last % 12]) last += 1;
  const keys: KeyboardKey[] = [];
  const start = whitesBelow(first);
  for (let midi = first; midi <= last; midi += 1) {
    const isBlack = IS_BLACK[midi % 12] ?? false;
    const pitch = `${NAMES[midi % 12] ?? 'C'}${Math.floor(midi / 12) - 1}`;
    keys.push({
      pitch,
      midi,
      isBlack,
      left: whitesBelow(midi) - start - (isBlack ? BLACK / 2 : 0),
      name: Keys.sayNote(pitch),
      spoken: speak(pitch),
    });
  }
  return keys;
}

function speak(pitch: PitchName): string {
  return pitch
    .replace('#', ' sharp ')
    .replace('b', ' flat ')
    .replace(/^([A-G])(-?\d)/, '$1 $2');
}

/** How many white keys wide a row of keys is. */
export function widthOf(keys: readonly KeyboardKey[]): number {
  return keys.filter(({ isBlack }) => !isBlack).length;
}

/** Middle of a key, in widths of a white key; null where it is not on this keyboard. */
export function middleOf(keys: readonly KeyboardKey[], pitch: PitchName): number | null {
  const midi = Pitches.midiOf(pitch);
  const key = keys.find((each) => each.midi === midi);
  return key ? key.left + (key.isBlack ? BLACK : 1) / 2 : null;
}

/** One end marked anew; the other gives way where they would cross. */
export function mark(marked: Marked, end: End, pitch: PitchName): Marked {
  const midi = Pitches.midiOf(pitch);
  const { low, high } = marked;
  if (end === 'low') {
    return { low: pitch, high: high !== null && Pitches.midiOf(high) < midi ? pitch : high };
  }
  return { low: low !== null && Pitches.midiOf(low) > midi ? pitch : low, high: pitch };
}

/** A range once both ends are marked. */
export function rangeOf({ low, high }: Marked): Range | null {
  return low !== null && high !== null ? { low, high } : null;
}

/** Where the arrow keys lead from a key: by half step, Page keys by octave, Home and End; null: nowhere. */
export function keyAfter(pressed: string, from: number, count: number): number | null {
  const to: Record<string, number> = {
    ArrowRight: from + 1,
    ArrowUp: from + 1,
    ArrowLeft: from - 1,
    ArrowDown: from - 1,
    PageUp: from + 12,
    PageDown: from - 12,
    Home: 0,
    End: count - 1,
  };
  const next = to[pressed];
  return next === undefined ? null : Math.min(count - 1, Math.max(0, next));
}
