import { ofShiftingLine, SHIFT_POINTS, type ShiftingNote } from '../../hand/line-with-shifts.ts';
import { midiOf } from '../../pitch/pitch.ts';
import type { Note } from '../../score/score.ts';
import { feltBeat, meterAt } from '../../score/time.ts';
import type { HandLine } from './hand-line.ts';
import type { KeysSong } from './keys-song.ts';

const OCTAVE = 12;
/** Semitones of a diminished, perfect and augmented fifth. */
const FIFTHS: readonly number[] = [6, 7, 8];

/**
 * Fingers of a left hand where it has single notes, by their place in the line; notes together have none here. Steps are
 * fingered as a line; where a chord lasts, so that two of its keys are struck or more, the hand likes to lie in the grip of
 * its octave, 5 2 1 (common practice). Single roots below the fourth rung have the fingers of their place on the first
 * (`LeftHand`) wherever no step says otherwise. The hand may shift where a chord or a bar begins and before a step that
 * leads on; after a rest of a felt beat it begins anew.
 */
export function leftFingers(
  { score, chords, rungsAt }: Pick<KeysSong, 'score' | 'chords' | 'rungsAt'>,
  { notes, held }: Pick<HandLine, 'notes' | 'held'>,
): ReadonlyMap<number, number> {
  const found = new Map<number, number>();
  let run: { readonly place: number; readonly note: ShiftingNote }[] = [];
  const end = () => {
    const fingers = ofShiftingLine(run.map(({ note }) => note), 'left'); // prettier-ignore
    run.forEach(({ place }, i) => found.set(place, fingers[i] ?? 5));
    run = [];
  };
  const bars = new Set(score.bars.map(({ at }) => at));
  const chordOf = ({ at }: Note) =>
    chords.findIndex((each) => at >= each.at && at < each.at + each.length);
  const struck = chords.map((_, chord) =>
    notes.filter((note) => note.pitches.length === 1 && chordOf(note) === chord),
  );
  notes.forEach((note, place) => {
    const [pitch, ...others] = note.pitches;
    const chord = chordOf(note);
    const shape = held[chord] ?? { notes: [], fingers: [] };
    if (pitch === undefined) {
      if (note.length >= feltBeat(meterAt(score, note.at))) end();
      return;
    }
    if (others.length > 0) {
      end();
      return;
    }
    const rung = rungsAt(note.at).left;
    const usual =
      rung < 4 && shape.notes.length === 1
        ? { finger: shape.fingers[0] ?? 5, points: SHIFT_POINTS.relearnt }
        : (gripOf(shape.notes.map(midiOf), struck[chord] ?? []).get(midiOf(pitch)) ?? null);
    const isTied = notes[place - 1]?.tie === true;
    const begins = bars.has(note.at) || chords[chord]?.at === note.at;
    const isStep = usual === null && midiOf(pitch) !== midiOf(shape.notes[0] ?? pitch);
    run.push({ place, note: { pitch, usual, mayShift: !isTied && (begins || isStep) } });
  });
  end();
  return found;
}

interface Usual {
  readonly finger: number;
  readonly points: number;
}

/** Key by key the fingers of a grip on root, fifth and octave; empty where only one of them is struck. */
function gripOf(shape: readonly number[], struck: readonly Note[]): ReadonlyMap<number, Usual> {
  const [low = 0] = shape;
  const hasOctave = shape.includes(low + OCTAVE);
  const keys = new Set(struck.flatMap(({ pitches }) => pitches.map(midiOf)));
  const grip = [...keys].flatMap((key): [number, Usual][] => {
    const above = key - low;
    const finger = above === 0 ? 5 : above === OCTAVE ? 1 : FIFTHS.includes(above) ? (hasOctave ? 2 : 1) : null; // prettier-ignore
    return finger === null ? [] : [[key, { finger, points: SHIFT_POINTS.departure }]];
  });
  return new Map(grip.length > 1 ? grip : []);
}
