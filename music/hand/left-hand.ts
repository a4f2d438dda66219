import { failure, type Failure, type Problem } from '../result.ts';
import type { Chord } from '../pitch/chord.ts';
import { read, write } from '../pitch/chord-symbol.ts';
import { sayNote } from '../pitch/key.ts';
import { midiOf, parsePitch, pitchClassOf, type NoteName, type PitchName } from '../pitch/pitch.ts';
import { cheapestPath, type Places } from './best-path.ts';
import { pitchOn } from './candidates.ts';
import { fingerIn, positionsOf, sayPosition, type HandPosition } from './left-hand-position.ts';
import { POSITION_SPAN } from './left-hand-position.ts';
import { ofShiftingLine, SHIFT_POINTS, type ShiftingNote } from './line-with-shifts.ts';
import { noteOnKey } from './note-words.ts';

export type { HandPosition } from './left-hand-position.ts';

export interface LeftHandOptions {
  /**
   * The lowest and highest key, both included. Default C2 to G3 (ours: a full sound below a right
   * hand from G3 up).
   */
  readonly register?: { readonly low: PitchName; readonly high: PitchName };
  /** What the right hand holds at each chord: the left hand stays below. */
  readonly right?: readonly (readonly PitchName[])[];
  /** How many semitones it stays below, at least. Default 3, room for two thumbs (ours). */
  readonly gap?: number;
}

export interface LeftHandPlan {
  readonly ok: true;
  /** Per chord: one note, as the chord spells it. */
  readonly notes: readonly (readonly PitchName[])[];
  readonly fingers: readonly (readonly number[])[];
  readonly positions: readonly HandPosition[];
  /** How often the hand leaves its place. */
  readonly shifts: number;
  /** The way of the notes, in semitones. */
  readonly total: number;
  /** One sentence per position. */
  readonly words: readonly string[];
}

export const REGISTER = { low: 'C2', high: 'G3' } as const;
export const GAP = 3;
/**
 * Of equals, nearest to the C below middle C: lower single notes get dull, higher ones come near
 * the right hand (ours).
 */
const CENTRE = 48;

/**
 * The left hand of a first level: under each chord one held note, the slash bass where one is
 * written, else the root (common practice). The octave of every note is chosen so that the hand
 * shifts as rarely as can be (a place is a five-finger position, a fifth wide), then moves least,
 * then lies nearest to C3, then lowest: exact, one answer.
 */
export function plan(
  chords: readonly (string | Chord)[],
  options: LeftHandOptions = {},
): LeftHandPlan | Failure {
  const { low, high } = options.register ?? REGISTER;
  const [lowest, highest] = [parsePitch(low)?.midi, parsePitch(high)?.midi];
  if (lowest === undefined || highest === undefined)
    return failure({
      code: 'register-not-read',
      message: `The register must go from a pitch to a pitch, such as C2 to G3, not ${low} to ${high}.`,
    });
  const problems: Problem[] = [];
  const keys = chords.map((chord, i) => {
    const bass = bassOf(chord);
    if (typeof bass !== 'string') {
      for (const { code, message } of bass) problems.push(atChord(i, chord, code, message));
      return { bass: 'C', keys: [] };
    }
    const shape = options.right?.[i] ?? [];
    const top = Math.min(highest, ...shape.map((note) => midiOf(note) - (options.gap ?? GAP)));
    const found = keysOf(bass, lowest, top);
    if (found.length === 0)
      problems.push(
        atChord(
          i,
          chord,
          'no-bass-note',
          `there is no ${sayNote(bass)} for the left hand between ${noteOnKey(lowest)} and ${noteOnKey(top)}.`,
        ),
      );
    return { bass, keys: found };
  });
  if (problems.length > 0) return failure(...problems);

  const stands = keys.map((each) => standsOn(each.keys, keys));
  const choices = cheapestPath(placesOf(stands, highest - lowest), false);
  const notes = choices.map((choice, i) =>
    pitchOn(keys[i]?.bass ?? 'C', stands[i]?.[choice]?.key ?? 0),
  );
  return described(notes);
}

function described(notes: readonly PitchName[]): LeftHandPlan {
  const positions = positionsOf(notes);
  const total = notes
    .slice(1)
    .reduce((sum, note, i) => sum + Math.abs(midiOf(note) - midiOf(notes[i] as PitchName)), 0);
  return {
    ok: true,
    notes: notes.map((note) => [note]),
    fingers: fingersIn(positions, notes),
    positions,
    shifts: Math.max(0, positions.length - 1),
    total,
    words: positions.map((position, i) => sayPosition(position, positions[i - 1])),
  };
}

/** A finger to each note as its position has it; another one where a finger would go from a key to one within a third. */
function fingersIn(positions: readonly HandPosition[], notes: readonly PitchName[]): number[][] {
  const line = positions.flatMap((position) =>
    notes.slice(position.from, position.to + 1).map((pitch): ShiftingNote => {
      const usual = { finger: fingerIn(position, pitch), points: SHIFT_POINTS.relearnt };
      return { pitch, mayShift: true, usual };
    }),
  );
  return ofShiftingLine(line, 'left').map((finger) => [finger]);
}

function atChord(i: number, chord: string | Chord, code: string, message: string): Problem {
  const name = typeof chord === 'string' ? chord : write(chord);
  return { code, message: `Chord ${i + 1}, ${name}: ${message}` };
}

function bassOf(chord: string | Chord): NoteName | readonly Problem[] {
  const result = typeof chord === 'string' ? read(chord) : null;
  if (result && !result.ok) return result.problems;
  const value = result ? result.value : (chord as Chord);
  if (value.kind === 'none')
    return [{ code: 'chord-without-notes', message: 'there is nothing to hold in it.' }];
  return value.bass ?? value.root;
}

function keysOf(note: NoteName, low: number, high: number): number[] {
  const found: number[] = [];
  for (let key = low; key <= high; key++) if (key % 12 === pitchClassOf(note)) found.push(key);
  return found;
}

/** A key, played by a hand whose little finger stands over `little`. */
interface Stand {
  readonly key: number;
  readonly little: number;
}

/**
 * The little finger need only ever stand over a key that is played somewhere: a hand over anything
 * lower can move up to the lowest key it plays and still has all of them.
 */
function standsOn(
  own: readonly number[],
  all: readonly { readonly keys: readonly number[] }[],
): Stand[] {
  const played = [...new Set(all.flatMap((each) => each.keys))].sort((a, b) => a - b);
  return own.flatMap((key) =>
    played
      .filter((little) => little <= key && key - little <= POSITION_SPAN)
      .map((little) => ({ key, little })),
  );
}

function placesOf(stands: readonly (readonly Stand[])[], width: number): Places {
  const shift = width * stands.length + 1;
  return {
    sizes: stands.map((each) => each.length),
    own: (place) => {
      const here = stands[place] as readonly Stand[];
      return {
        first: new Float64Array(here.length),
        then: Float64Array.from(here, (stand) => Math.abs(stand.key - CENTRE)),
      };
    },
    way: (place) => {
      const here = stands[place] as readonly Stand[];
      const there = stands[place + 1] as readonly Stand[];
      const first = here.flatMap((a) =>
        there.map((b) => (a.little === b.little ? 0 : shift) + Math.abs(a.key - b.key)),
      );
      return { first: Float64Array.from(first), at: 0, then: () => 0 };
    },
  };
}
