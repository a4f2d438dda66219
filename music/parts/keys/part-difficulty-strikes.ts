import { sayTime, secondsOf } from '../../hand/move-difficulty.ts';
import type { Hand } from '../../hand/shape.ts';
import { sameChord } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import { sayNote } from '../../pitch/key.ts';
import { listed } from '../../score/number-words.ts';
import type { Score, Span, Tempo, Ticks } from '../../score/score.ts';
import { barAt, countedBeat, countedTempo, meterAt, tempoAt } from '../../score/time.ts';
import type { Neighbours } from '../changes.ts';
import type { Part, PartShape } from '../part.ts';

/** What of a part its difficulty is worked out from. */
export type PlayedPart = Pick<Part, 'score' | 'shapes'>;

/** What a hand strikes at one moment. */
export interface Strike {
  readonly at: Ticks;
  readonly pitches: readonly PitchName[];
  /** Same order; 0 where no finger stands on the sheet. */
  readonly fingers: readonly number[];
}

/** A chord of the song as both hands play it; without a shape where the right hand rests. */
export interface ChordPlayed extends Span {
  readonly chord: Chord;
  readonly shape: PartShape | null;
  readonly right: readonly Strike[];
  readonly left: readonly Strike[];
}

/** What a hand strikes, in order; a finger that is not shown again is the one last shown on its key. */
export function strikesOf({ score }: PlayedPart, hand: Hand): Strike[] {
  const notes = score.voices.find(({ id }) => id === hand)?.notes ?? [];
  const last = new Map<number, number>();
  return notes.flatMap((note, i): Strike[] => {
    if (note.pitches.length === 0 || notes[i - 1]?.tie) return [];
    const fingers = note.pitches.map((pitch, at) => {
      const finger = note.fingers?.[at] ?? last.get(midiOf(pitch)) ?? 0;
      last.set(midiOf(pitch), finger);
      return finger;
    });
    return [{ at: note.at, pitches: note.pitches, fingers }];
  });
}

/** The chords of the song itself, with what is struck under each; those of a written-out introduction are left out. */
export function chordsPlayed(part: PlayedPart): ChordPlayed[] {
  const { score, shapes } = part;
  const [right, left] = [strikesOf(part, 'right'), strikesOf(part, 'left')];
  return score.chords.flatMap(({ at, length, chord }): ChordPlayed[] => {
    if (!chord || barAt(score, at).copyOf !== undefined) return [];
    const inside = (strike: Strike) => strike.at >= at && strike.at < at + length;
    const own = right.filter(inside);
    const shape = shapeUnder(shapes, chord, own);
    return [{ from: at, to: at + length, chord, shape, right: own, left: left.filter(inside) }];
  });
}

/** Of the shapes of a chord the one that has most of what is struck under it. */
function shapeUnder(
  shapes: readonly PartShape[],
  chord: Chord,
  strikes: readonly Strike[],
): PartShape | null {
  if (strikes.length === 0) return null;
  const struck = new Set(strikes.flatMap(({ pitches }) => pitches.map(midiOf)));
  const shared = ({ notes }: PartShape) =>
    notes.filter((note) => struck.has(midiOf(note))).length / notes.length;
  return shapes
    .filter((shape) => sameChord(shape.chord, chord))
    .reduce<PartShape | null>(
      (best, shape) => (best === null || shared(shape) > shared(best) ? shape : best),
      null,
    );
}

/** The time of a change from the last strike before it to the first after it; its own where either is missing. */
export function betweenStrikes(
  { before, after, time }: Neighbours<Span>,
  earlier: readonly Strike[],
  later: readonly Strike[],
): Ticks {
  const [last, first] = [earlier.at(-1), later[0]];
  return last && first ? before.to - last.at + first.at - after.from : time;
}

/**
 * The time that the right hand has for a change: of all fingers that come to another key the least from where each was
 * last needed to where it is needed next. Of a broken chord no finger but the first must be there at once.
 */
export function timeOfMove(pair: Neighbours<ChordPlayed>): Ticks {
  const { before, after, time } = pair;
  const strikesWith = (strikes: readonly Strike[], pitch: PitchName | undefined) => {
    if (pitch === undefined) return strikes;
    const own = strikes.filter(({ pitches }) => pitches.includes(pitch));
    return own.length > 0 ? own : strikes;
  };
  const times = (after.shape?.notes ?? []).flatMap((pitch, i): Ticks[] => {
    const finger = after.shape?.fingers[i];
    const was = before.shape?.notes[before.shape.fingers.indexOf(finger ?? 0)];
    if (was === pitch) return [];
    const earlier = strikesWith(before.right, was);
    return [betweenStrikes(pair, earlier, strikesWith(after.right, pitch))];
  });
  return times.length > 0 ? Math.min(...times) : time;
}

/** How long something lasts at a place, in the beats that are counted there, with their tempo. */
export function timeAt(score: Score, at: Ticks, ticks: Ticks) {
  const [meter, tempo] = [meterAt(score, at), tempoAt(score, at)];
  const counted: Tempo | null = countedTempo(meter, tempo);
  const beats = ticks / countedBeat(meter, tempo);
  const seconds = counted === null ? null : secondsOf(beats, counted);
  return { beats, tempo: counted, seconds, words: sayTime(beats, counted) };
}

/** `bar 7`, `the pickup`, `the introduction`. */
export function sayBar(score: Score, at: Ticks): string {
  const { number, copyOf } = barAt(score, at);
  if (copyOf !== undefined) return 'the introduction';
  return number === 0 ? 'the pickup' : `bar ${number}`;
}

/** `C4 E4 G4`. */
export const sayPitches = (pitches: readonly PitchName[]): string => pitches.map(sayNote).join(' ');

/** `C2 and C3`. */
export const sayTogether = (pitches: readonly PitchName[]): string => listed(pitches.map(sayNote));
