import { sayTime, secondsOf } from '../../hand/move-difficulty.ts';
import type { Hand, Shape } from '../../hand/shape.ts';
import type { Chord } from '../../pitch/chord.ts';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import { ENGLISH, type Says } from '../../pitch/says.ts';
import { counted, listed, sayTimes } from '../../score/number-words.ts';
import type { Note, Score, Span, Tempo, Ticks } from '../../score/score.ts';
import { barAt, countedBeat, countedTempo, meterAt, tempoAt } from '../../score/time.ts';
import type { Change, Neighbours } from '../changes.ts';
import type { HeldChord } from '../hands-plan.ts';
import type { Part, PartShape } from '../part.ts';

/** What of a part its difficulty is worked out from. */
export type PlayedPart = Pick<Part, 'score' | 'shapes' | 'moves' | 'names'>;

/** What a hand strikes at one moment. */
export interface Strike {
  readonly at: Ticks;
  readonly pitches: readonly PitchName[];
  /** Same order; 0 where no finger stands on the sheet. */
  readonly fingers: readonly number[];
}

/** What the right hand holds in some time, and what of it is struck there. */
interface HeldAndStruck extends Span {
  readonly shape: Shape | null;
  readonly right: readonly Pick<Strike, 'at' | 'pitches'>[];
}

/** A chord of the song as both hands play it. */
export interface ChordPlayed extends HeldAndStruck {
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
  const { score, shapes, moves } = part;
  const [right, left] = [strikesOf(part, 'right'), strikesOf(part, 'left')];
  // A chord that no move leads to is held as what stands before it.
  let shape = shapes[0] ?? null;
  return score.chords.flatMap(({ at, length, chord }): ChordPlayed[] => {
    if (!chord) return [];
    const move = moves.find((each) => each.at === at);
    if (move) shape = shapes[move.to] ?? null;
    if (barAt(score, at).copyOf !== undefined) return [];
    const inside = (strike: Strike) => strike.at >= at && strike.at < at + length;
    return [
      {
        from: at,
        to: at + length,
        chord,
        shape,
        right: right.filter(inside),
        left: left.filter(inside),
      },
    ];
  });
}

/** The time of a change from the last strike before it to the first after it; its own where either is missing. */
export function betweenStrikes(
  { before, after, time }: Neighbours<Span>,
  earlier: readonly { readonly at: Ticks }[],
  later: readonly { readonly at: Ticks }[],
): Ticks {
  const [last, first] = [earlier.at(-1), later[0]];
  return last && first ? before.to - last.at + first.at - after.from : time;
}

/**
 * The time that the right hand has for a change: of all fingers that come to another key the least from where each was
 * last needed to where it is needed next. Of a broken chord no finger but the first must be there at once.
 */
export function timeOfMove(pair: Neighbours<HeldAndStruck>): Ticks {
  const { before, after, time } = pair;
  const strikesWith = (strikes: HeldAndStruck['right'], pitch: PitchName | undefined) => {
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

/** Changes of chord with the time that the right hand has for them, from what it strikes to what it strikes. */
export function inStruckTime(changes: readonly Change[], notes: readonly Note[]): Change[] {
  const played = ({ from, to, right }: HeldChord): HeldAndStruck => ({
    from,
    to,
    shape: right,
    right: notes.filter(({ at, pitches }) => at >= from && at < to && pitches.length > 0),
  });
  return changes.map((change): Change => {
    const { before, after, time } = change;
    return {
      ...change,
      time: timeOfMove({ before: played(before), after: played(after), time }),
    };
  });
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

/** Rates are said over so many seconds at most, if that is near enough. */
const MOST_SECONDS = 4;
/** What is further off than this part of a rate is said with `about`, and beyond `ROUGH` more seconds are tried. */
const EXACT = 0.01;
const ROUGH = 0.05;

/** How often something comes: `twice a second`, `eight times in three seconds`, `about once in two seconds`. */
export function sayRate(perSecond: number): string {
  const most = Math.max(MOST_SECONDS, Math.ceil(1 / perSecond));
  const ways = Array.from({ length: most }, (_, i) => {
    const [seconds, times] = [i + 1, Math.max(1, Math.round(perSecond * (i + 1)))];
    return { seconds, times, off: Math.abs(times / seconds / perSecond - 1) };
  });
  const nearest = ways.reduce((best, way) => (way.off < best.off ? way : best));
  const { seconds, times, off } = ways.find((way) => way.off <= ROUGH) ?? nearest;
  const about = off > EXACT ? 'about ' : '';
  const span = seconds === 1 ? 'a second' : `in ${counted(seconds, 'second', 'seconds')}`;
  return `${about}${sayTimes(times)} ${span}`;
}

/** `C4 E4 G4`. */
export const sayPitches = (pitches: readonly PitchName[], says: Says = ENGLISH): string =>
  pitches.map(says.note).join(' ');

/** `C2 and C3`. */
export const sayTogether = (pitches: readonly PitchName[], says: Says = ENGLISH): string =>
  listed(pitches.map(says.note));
