import { failure, type Failure, type Problem } from '../result.ts';
import { plan as planLeft, type HandPosition } from '../hand/left-hand.ts';
import {
  plan as planRight,
  type PlannedMove,
  type RightHandOptions,
  type Settled,
} from '../hand/right-hand.ts';
import type { Shape } from '../hand/shape.ts';
import type { Chord } from '../pitch/chord.ts';
import type { ChordAt, Score, Span } from '../score/score.ts';
import { leftOut, notesWithin } from './notes-left-out.ts';
import { noChords, playedChords } from './played-chords.ts';
import type { Player } from './arrangement.ts';

/**
 * How a beginner's right hand plays: around middle C, so that the left hand has its octave below and nothing needs more
 * than two ledger lines (ours); three notes, so that a seventh chord is its root, third and seventh; every chord in one
 * shape from beginning to end (common practice: what is learned once need not be thought of again).
 */
const BEGINNER_RIGHT = {
  register: { low: 'G3', high: 'D5' },
  most: 3,
  goal: 'settled',
} as const satisfies RightHandOptions;

/** One chord that the hands hold, however many bars it lasts. */
export interface HeldChord extends Span {
  readonly chord: Chord;
  readonly right: Shape;
  readonly left: Shape;
  /** The source's or the reading's entry that it comes from. */
  readonly entry: ChordAt;
}

export interface HandsPlan {
  readonly ok: true;
  readonly held: readonly HeldChord[];
  /** `moves[i]` goes from `held[i]` to `held[i + 1]`. */
  readonly moves: readonly PlannedMove[];
  /** The left hand's places; `from` and `to` count in `held`. */
  readonly positions: readonly HandPosition[];
  /** The right hand's motion in semitones, and what it would be if chords changed their shapes. */
  readonly motion: { readonly total: number } & Settled;
  readonly warnings: readonly Problem[];
}

/**
 * Where single notes of the left hand lie: without a bass player where the hand stays stillest, with one from F2 up, out
 * of the bass's own octave (it plays from E1; ours, after common practice: the left hand stays light).
 */
export const SINGLE_NOTES = {
  alone: { low: 'C2', high: 'G3' },
  'with a bass': { low: 'F2', high: 'G3' },
} as const;

/**
 * Both hands for all chords of a score. Where the hand cannot hold a chord whole it takes two notes of it, or one.
 * @param hasBass whether a bass player is there this week
 */
export function planHands(
  score: Score,
  player: Pick<Player, 'name' | 'reach'>,
  hasBass = false,
): HandsPlan | Failure {
  const played = playedChords(score);
  if (played.length === 0) {
    return failure(noChords(score));
  }
  const chords = played.map(({ chord }) => chord);
  const warnings: Problem[] = [];
  const options = { ...BEGINNER_RIGHT, reach: player.reach };
  let right = planRight(chords, options);
  if (!right.ok) {
    const most = chords.map((chord) => notesWithin(chord, options));
    right = planRight(chords, { ...options, most });
    if (right.ok) warnings.push(leftOut(score, player, played, right.shapes));
  }
  if (!right.ok) return right;
  const left = planLeft(chords, {
    register: SINGLE_NOTES[hasBass ? 'with a bass' : 'alone'],
    right: right.shapes.map(({ notes }) => notes),
  });
  if (!left.ok) return left;
  const { shapes, total } = right;
  return {
    ok: true,
    held: played.map((entry, i): HeldChord => ({
      from: entry.at,
      to: entry.at + entry.length,
      chord: entry.chord,
      right: shapes[i] as Shape,
      left: { notes: left.notes[i] ?? [], fingers: left.fingers[i] ?? [] },
      entry,
    })),
    moves: right.moves,
    positions: left.positions,
    motion: { total, ...(right.settled ?? { nearest: total, proof: 'optimal' }) },
    warnings: [...warnings, ...right.warnings],
  };
}
