import { pitchOn } from '../../hand/candidates.ts';
import { tonesOf } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import { transposePitch } from '../../pitch/interval.ts';
import { scaleOf, type Key } from '../../pitch/key.ts';
import {
  LETTERS,
  midiOf,
  noteOf,
  pitchClassOf,
  requirePitch,
  type NoteName,
  type PitchName,
} from '../../pitch/pitch.ts';

/** Sounding keys, low and high included. Semitones, C4 = 60. */
export interface Register {
  readonly low: number;
  readonly high: number;
}

/** From the lowest string to the end of first position, where the first two rungs stay; and to D3 for the third (ours). */
export const FIRST_POSITION_TOP = midiOf('B2');
export const WALKING_TOP = midiOf('D3');
export const lowestOf = (strings: 4 | 5): number => midiOf(strings === 5 ? 'B0' : 'E1');

/** Every octave of a note within a register, from the lowest. */
export function octavesIn(note: NoteName, { low, high }: Register): PitchName[] {
  const first = low + ((((pitchClassOf(note) - low) % 12) + 12) % 12);
  const pitches: PitchName[] = [];
  for (let key = first; key <= high; key += 12) pitches.push(pitchOn(note, key));
  return pitches;
}

/** Whether a note is one of a chord, or its written bass. */
export function isChordTone({ chord, note }: { chord: Chord; note: NoteName }): boolean {
  return [...tonesOf(chord), chord.bass ?? chord.root].some(
    (tone) => pitchClassOf(tone) === pitchClassOf(note),
  );
}

/**
 * The notes to step on under a chord: its own, and those of the key whose letter it does not have, so that no F stands
 * beside the F sharp of the chord.
 */
export function scaleUnder(chord: Chord, key: Key): NoteName[] {
  const tones = [...new Set([...tonesOf(chord), chord.bass ?? chord.root])];
  const letters = new Set(tones.map((tone) => tone.charAt(0)));
  const classes = new Set(tones.map(pitchClassOf));
  const others = scaleOf(key).filter(
    (note) => !letters.has(note.charAt(0)) && !classes.has(pitchClassOf(note)),
  );
  return [...tones, ...others];
}

/** The fifth of a chord as it is spelled; null under a bass that is not the root, or where the chord has none. */
export function fifthOf(chord: Chord): NoteName | null {
  if (chord.bass !== null && chord.bass !== chord.root) return null;
  const letter = (note: NoteName) => LETTERS.indexOf(requirePitch(`${note}4`).letter);
  return tonesOf(chord).find((tone) => (letter(tone) - letter(chord.root) + 7) % 7 === 4) ?? null;
}

/** The nearest octave of a note to a pitch within a register, of equal ones the lower; null: none. */
export function nearest(note: NoteName, to: PitchName, register: Register): PitchName | null {
  const far = (pitch: PitchName) => Math.abs(midiOf(pitch) - midiOf(to));
  return (
    octavesIn(note, register).sort((a, b) => far(a) - far(b) || midiOf(a) - midiOf(b))[0] ?? null
  );
}

/** A half step below (−1) or above (1) a pitch: as the key spells it, else on the next letter, never doubly altered. */
export function halfStepBeside(pitch: PitchName, side: -1 | 1, key: Key): PitchName {
  const midi = midiOf(pitch) + side;
  const inKey = scaleOf(key).find((note) => pitchClassOf(note) === ((midi % 12) + 12) % 12);
  if (inKey !== undefined) return pitchOn(inKey, midi);
  const spelled = transposePitch(pitch, { steps: side, semitones: side });
  return Math.abs(requirePitch(spelled).alter) < 2
    ? spelled
    : transposePitch(pitch, { steps: 0, semitones: side });
}

/**
 * The note that leads into the next chord on the second rung: a step of the scale beside its bass note, from the side that
 * the line comes from; where that was struck just before, from the other side; where the scale has none in the register,
 * a half step. Null: the bass note does not change.
 * @param from the bass note of the chord that sounds; `before` what was struck last
 */
export function approachTo(
  target: PitchName,
  from: PitchName,
  before: PitchName,
  chord: Chord,
  key: Key,
  register: Register,
): PitchName | null {
  const way = midiOf(target) - midiOf(from);
  if (way === 0) return null;
  const scale = scaleUnder(chord, key);
  const side = way > 0 ? -1 : 1;
  const steps = ([side, -side] as (-1 | 1)[]).flatMap(
    (each) => stepBeside(target, each, scale) ?? [],
  );
  const halves = ([side, -side] as (-1 | 1)[]).map((each) => halfStepBeside(target, each, key));
  const fits = (pitch: PitchName) =>
    midiOf(pitch) >= register.low &&
    midiOf(pitch) <= register.high &&
    midiOf(pitch) !== midiOf(before);
  return [...steps, ...halves].find(fits) ?? null;
}

/** The note of a scale a half or a whole step below (−1) or above (1) a pitch; null: none. */
function stepBeside(pitch: PitchName, side: -1 | 1, scale: readonly NoteName[]): PitchName | null {
  for (const far of [1, 2]) {
    const midi = midiOf(pitch) + side * far;
    const note = scale.find((each) => pitchClassOf(each) === ((midi % 12) + 12) % 12);
    if (note !== undefined && pitchClassOf(note) !== pitchClassOf(noteOf(pitch)))
      return pitchOn(note, midi);
  }
  return null;
}
