import {
  LETTERS,
  isNoteName,
  pitchName,
  requirePitch,
  type Letter,
  type NoteName,
  type PitchName,
} from './pitch.ts';

/** A distance that knows its spelling: C4 to D#4 is one step and three semitones, C4 to Eb4 two steps and three. */
export interface Interval {
  /** Diatonic steps, up positive. */
  readonly steps: number;
  /** Up positive. */
  readonly semitones: number;
}

export const UNISON: Interval = { steps: 0, semitones: 0 };
/** Semitones of the major or perfect interval of 0–6 steps. */
const MAJOR_OR_PERFECT = [0, 2, 4, 5, 7, 9, 11] as const;
/** More accidentals than three are not written; such a note takes the spelling with the fewest. */
const MOST_ACCIDENTALS = 3;

/** `F#4` up a minor third → `A4`; spelled by steps, so that `F##` appears where the music asks for it. */
export function transposePitch(pitch: PitchName, interval: Interval): PitchName {
  const from = requirePitch(pitch);
  const step = from.step + interval.steps;
  const midi = from.midi + interval.semitones;
  const octave = Math.floor(step / 7);
  const letter = LETTERS[step - 7 * octave] as Letter;
  const natural = requirePitch(pitchName(letter, 0, octave)).midi;
  const alter = midi - natural;
  return Math.abs(alter) <= MOST_ACCIDENTALS
    ? pitchName(letter, alter, octave)
    : plainest(midi, alter < 0);
}

/** The spelling of a sounding pitch with the fewest accidentals. */
function plainest(midi: number, flat: boolean): PitchName {
  const octave = Math.floor(midi / 12) - 1;
  const sharp = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'] as const;
  const flats = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'] as const;
  return `${(flat ? flats : sharp)[midi - 12 * (octave + 1)] ?? 'C'}${octave}`;
}

/** A note name by an interval: `E` up a major third → `G#`. */
export function transposeNote(note: NoteName, interval: Interval): NoteName {
  if (!isNoteName(note)) throw new TypeError(`not a note name: ${JSON.stringify(note)}`);
  return transposePitch(`${note}4`, interval).replace(/-?\d+$/, '');
}

/** From one pitch to another: down is negative. */
export function intervalBetween(from: PitchName, to: PitchName): Interval {
  const [a, b] = [requirePitch(from), requirePitch(to)];
  return { steps: b.step - a.step, semitones: b.midi - a.midi };
}

/** The interval up from one note name to the next such note, less than an octave of steps. */
export function intervalUp(from: NoteName, to: NoteName): Interval {
  const between = intervalBetween(`${from}4`, `${to}4`);
  return between.steps < 0 ? plusOctaves(between, 1) : between;
}

export function plusOctaves(interval: Interval, octaves: number): Interval {
  return { steps: interval.steps + 7 * octaves, semitones: interval.semitones + 12 * octaves };
}

export function reverse(interval: Interval): Interval {
  return { steps: 0 - interval.steps, semitones: 0 - interval.semitones };
}

const PLAIN = ['unison', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh'] as const;
const PERFECT = new Set([0, 3, 4]);

/** `minor third`, `augmented fourth`, `octave`, `major tenth`: exact, whatever the direction. */
export function nameInterval(interval: Interval): string {
  const down = interval.steps < 0 || (interval.steps === 0 && interval.semitones < 0);
  const { steps, semitones } = down ? reverse(interval) : interval;
  const octaves = Math.floor(steps / 7);
  const simple = steps - 7 * octaves;
  const off = semitones - 12 * octaves - (MAJOR_OR_PERFECT[simple] ?? 0);
  const quality = PERFECT.has(simple)
    ? off === 0
      ? ''
      : off > 0
        ? 'augmented '
        : 'diminished '
    : off === 0
      ? 'major '
      : off === -1
        ? 'minor '
        : off > 0
          ? 'augmented '
          : 'diminished ';
  const twice = Math.abs(off) > (PERFECT.has(simple) || off > 0 ? 1 : 2) ? 'doubly ' : '';
  return `${twice}${quality}${ordinal(steps + 1)}`;
}

function ordinal(number: number): string {
  if (number === 8) return 'octave';
  if (number < 8) return PLAIN[number - 1] ?? 'unison';
  const names = [
    'ninth',
    'tenth',
    'eleventh',
    'twelfth',
    'thirteenth',
    'fourteenth',
    'double octave',
  ];
  return names[number - 9] ?? `${number}th`;
}

/**
 * The size of an interval as a teacher says it, without its direction: `a half step`, `a step`, `a third`,
 * `a fourth`, `an octave`. A third may be minor or major; anything augmented or diminished is said exactly.
 */
export function sayInterval(interval: Interval): string {
  const semitones = Math.abs(interval.semitones);
  const steps = Math.abs(interval.steps);
  if (semitones === 0) return 'no distance';
  if (semitones === 1 && steps <= 1) return 'a half step';
  if (semitones === 2 && steps <= 2) return 'a step';
  if (steps === 1 && semitones === 3) return 'a step and a half';
  const exact = nameInterval(interval).replace(/^(minor|major) /, '');
  return `${/^(aug|oct|eig|ele)/.test(exact) ? 'an' : 'a'} ${exact}`;
}

/** With its direction: `up a step`, `down a half step`, `the same`. */
export function sayMove(interval: Interval): string {
  if (interval.semitones === 0) return 'the same';
  return `${interval.semitones > 0 ? 'up' : 'down'} ${sayInterval(interval)}`;
}
