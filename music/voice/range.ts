import { parsePitch, requirePitch, type PitchName } from '../pitch/pitch.ts';
import { failure, success, type Problem, type Result } from '../result.ts';

/**
 * From the lowest to the highest note, both counted in. Ranges are stored SOUNDING: a man who sings a tune that is
 * printed D4–D5 sings D3–D4, and that is what his range is compared with.
 */
export interface Range {
  readonly low: PitchName;
  readonly high: PitchName;
}

/** Where a voice takes the printed tune: at its pitch, or an octave below (as men sing a treble tune). */
export type Octave = 'as written' | 'octave below';
/** `free`: in each section wherever it lies better. */
export type OctaveChoice = Octave | 'free';

/** Whoever sings: one person, or a congregation as one voice. */
export interface Singer {
  readonly id: string;
  /** As a sentence uses it: `Ruth`, `the congregation`. */
  readonly name: string;
  /** What sits easily, sounding. */
  readonly comfortable: Range;
  /** The furthest notes there are, sounding; null or missing: not known. */
  readonly limit?: Range | null;
  /** Missing: one octave for the whole song, whichever lies better. */
  readonly reads?: OctaveChoice;
}

/** The lowest and highest note of a piano: beyond them a typing slip is likelier than a voice. */
const LOWEST = 21;
const HIGHEST = 108;

/** A range from two pitch names, or what is wrong with them. */
export function read(low: string, high: string): Result<Range> {
  const problems: Problem[] = [];
  for (const text of [low, high]) {
    const pitch = parsePitch(text);
    if (!pitch) {
      problems.push({
        code: 'not-a-pitch',
        message: `${JSON.stringify(text)} is not a note with its octave, such as A3 or Bb4.`,
      });
    } else if (pitch.midi < LOWEST || pitch.midi > HIGHEST) {
      problems.push({
        code: 'beyond-the-piano',
        message: `${text} lies beyond the piano; nobody is asked to sing it.`,
      });
    }
  }
  if (problems.length > 0) return failure(...problems);
  if (requirePitch(low).midi > requirePitch(high).midi) {
    return failure({
      code: 'range-upside-down',
      message: `The lowest note, ${low}, lies above the highest, ${high}.`,
    });
  }
  return success({ low, high });
}

/** The middle of a range in semitones, C4 = 60; a half where two keys share it. */
export function middle(range: Range): number {
  return (requirePitch(range.low).midi + requirePitch(range.high).midi) / 2;
}

/** From the lowest to the highest note, in semitones. */
export function span(range: Range): number {
  return requirePitch(range.high).midi - requirePitch(range.low).midi;
}
