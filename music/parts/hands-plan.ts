import { failure, type Failure, type Problem } from '../result.ts';
import { plan as planLeft, type HandPosition } from '../hand/left-hand.ts';
import {
  plan as planRight,
  type PlannedMove,
  type RightHandOptions,
  type Settled,
} from '../hand/right-hand.ts';
import type { Shape } from '../hand/shape.ts';
import { sameChord } from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import type { ChordAt, Score, Span } from '../score/score.ts';
import { leftOut, notesWithin } from './notes-left-out.ts';
import { INTRODUCTION } from './introduction.ts';
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
 * A chord as a beginner plays it: over its root, unless a person wrote another bass. A bass that was found in the voices
 * is left to who plays it there.
 */
function asPlayed({ chord, guess }: ChordAt): Chord | null {
  if (!chord || chord.kind === 'none') return null;
  return guess && chord.bass !== null ? { ...chord, bass: null } : chord;
}

/**
 * The chords that are played, joined where one lasts, cut out of the pickup before bar 1: the singers sing it alone
 * (common practice: the first chord falls on beat one, on the stressed word).
 */
function playedChords(score: Score): (ChordAt & { readonly chord: Chord })[] {
  const silent = silentBar(score);
  const section = (at: number) => score.sections.find(({ from, to }) => at >= from && at < to);
  const played: (ChordAt & { readonly chord: Chord })[] = [];
  for (const entry of score.chords) {
    const chord = asPlayed(entry);
    if (!chord) continue;
    for (const span of without(entry, silent)) {
      const before = played.at(-1);
      const lasts =
        before !== undefined &&
        before.at + before.length === span.from &&
        sameChord(before.chord, chord) &&
        (section(before.at)?.id === INTRODUCTION) === (section(span.from)?.id === INTRODUCTION);
      if (lasts) played[played.length - 1] = { ...before, length: span.to - before.at };
      else played.push({ ...entry, chord, at: span.from, length: span.to - span.from });
    }
  }
  return played;
}

/** The pickup: the bar without a number right before bar 1, where it is not the last bar of an introduction. */
function silentBar(score: Score): Span | null {
  const first = score.bars.findIndex(({ number }) => number === 1);
  const bar = score.bars[first - 1];
  const introduction = score.sections.find(({ id }) => id === INTRODUCTION);
  if (!bar || (introduction && bar.at < introduction.to)) return null;
  return { from: bar.at, to: bar.at + bar.length };
}

function without({ at, length }: ChordAt, hole: Span | null): Span[] {
  const to = at + length;
  if (!hole || hole.to <= at || hole.from >= to) return [{ from: at, to }];
  return [
    { from: at, to: hole.from },
    { from: hole.to, to },
  ].filter((span) => span.to > span.from);
}

/** Both hands for all chords of a score. Where the hand cannot hold a chord whole it takes two notes of it, or one. */
export function planHands(
  score: Score,
  player: Pick<Player, 'name' | 'reach'>,
): HandsPlan | Failure {
  const played = playedChords(score);
  if (played.length === 0) {
    return failure({
      code: 'no-chords',
      message: `“${score.facts.title}” has no chords, and none can be found in its voices: write the chords over its words first.`,
    });
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
  const left = planLeft(chords, { right: right.shapes.map(({ notes }) => notes) });
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
