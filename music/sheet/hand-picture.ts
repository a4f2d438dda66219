import { midiOf, type PitchName } from '../pitch/pitch.ts';

export interface DrawnKey {
  readonly x: number;
  readonly width: number;
  readonly height: number;
  readonly pressed: boolean;
}

export interface DrawnHand {
  readonly width: number;
  readonly height: number;
  readonly white: readonly DrawnKey[];
  readonly black: readonly DrawnKey[];
  /** Where each finger's number stands, left to right. */
  readonly fingers: readonly { readonly x: number; readonly finger: number }[];
  /** Middle of the key of middle C, where it is drawn unpressed, to find one's place. */
  readonly middleC: number | null;
}

/** Widths and heights in the picture's own units; a black key is 0.6 of a white one, as on a piano. */
const WHITE = 11;
const BLACK = 6.6;
const HEIGHT = 46;
const BLACK_HEIGHT = 29;
const WHITES = 14;
/** White keys before a semitone above C, and whether its key is black. */
const KEYS = [0, 0, 1, 1, 2, 3, 3, 4, 4, 5, 5, 6] as const;
const IS_BLACK = [false, true, false, true, false, false, true, false, true, false, true, false];

/** Middle of a key, in units from the left edge of the C that the picture starts from. */
function middleOf(midi: number, start: number): number {
  const above = midi - start;
  const octave = Math.floor(above / 12);
  const note = above - 12 * octave;
  const white = 7 * octave + (KEYS[note] ?? 0);
  return IS_BLACK[note] ? (white + 1) * WHITE : (white + 0.5) * WHITE;
}

/** The C at or below the lowest note; an octave lower than that is never needed, a shape spans less than two. */
function startFor(notes: readonly number[]): number {
  return 12 * Math.floor(Math.min(...notes) / 12);
}

/**
 * Two octaves of keys with a shape on them.
 * @throws TypeError where a note is no pitch name.
 */
export function drawHand(
  notes: readonly PitchName[],
  fingers: readonly number[],
  from?: PitchName,
): DrawnHand {
  const midis = notes.map(midiOf);
  const start = from ? midiOf(from) : midis.length > 0 ? startFor(midis) : 60;
  const pressed = new Set(midis);
  const white: DrawnKey[] = [];
  const black: DrawnKey[] = [];
  for (let midi = start; midi < start + 24; midi += 1) {
    const dark = IS_BLACK[(midi - start) % 12] ?? false;
    const middle = middleOf(midi, start);
    const width = dark ? BLACK : WHITE;
    (dark ? black : white).push({
      x: middle - width / 2,
      width,
      height: dark ? BLACK_HEIGHT : HEIGHT,
      pressed: pressed.has(midi),
    });
  }
  return {
    width: WHITES * WHITE,
    height: HEIGHT,
    white,
    black,
    fingers: midis
      .map((midi, index) => ({ x: middleOf(midi, start), finger: fingers[index] ?? 0 }))
      .filter((each) => each.finger > 0),
    middleC: start <= 60 && 60 < start + 24 && !pressed.has(60) ? middleOf(60, start) : null,
  };
}
