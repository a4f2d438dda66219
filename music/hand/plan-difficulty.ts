import type { Failure } from '../result.ts';
import type { Chord } from '../pitch/chord.ts';
import { read, say } from '../pitch/chord-symbol.ts';
import { sayKey, type Key } from '../pitch/key.ts';
import { midiOf, type PitchName } from '../pitch/pitch.ts';
import { counted } from '../score/number-words.ts';
import { WEIGHTS } from './difficulty-weights.ts';
import { plan as planLeft } from './left-hand.ts';
import {
  ofMove,
  sum,
  type DifficultyItem,
  type DifficultyKind,
  type Pace,
} from './move-difficulty.ts';
import { between } from './motion.ts';
import type { PlannedMove } from './planned-move.ts';
import { plan as planRight, type RightHandOptions } from './right-hand.ts';
import type { Shape } from './shape.ts';

/** What a whole way through chords asks of a beginner's hands, in one key. */
export interface PlanDifficulty {
  readonly ok: true;
  readonly key: Key | null;
  /** The sum of the items. */
  readonly total: number;
  /** What costs, summed over all moves, the dearest first. */
  readonly items: readonly DifficultyItem[];
  /** The hardest single move; null where nothing moves. */
  readonly hardest: { readonly from: string; readonly to: string; readonly total: number } | null;
  /** Different shapes of the right hand. */
  readonly shapes: number;
  /** The furthest that one finger goes in one move, in semitones. */
  readonly widest: number;
  /** All the right hand's motion, in semitones. */
  readonly motion: number;
  /** How often the left hand leaves its place; null where it has no plan. */
  readonly leftShifts: number | null;
  /** `four shapes, hardest change C7 to Dm`: enough to set keys side by side. */
  readonly phrase: string;
  /** `In G major: four shapes, the widest move two keys; the left hand stays in one place.` */
  readonly sentence: string;
}

/** Both hands' ways through the same chords, as they were planned. */
export interface PlannedHands {
  /** Names of the chords, for the hardest move. */
  readonly chords: readonly string[];
  /** Names of the chords that the moves lead to; missing: the next of `chords`, in a loop the first after the last. */
  readonly next?: readonly string[];
  /** From each chord to the next; in a loop also from the last to the first. */
  readonly moves: readonly PlannedMove[];
  readonly shapes: readonly Shape[];
  /** The right hand's motion in semitones. */
  readonly motion: number;
  /** How often the left hand leaves its place; null where it has no plan. */
  readonly leftShifts: number | null;
}

/**
 * How hard chords are for both hands: the right hand's best plan and the left hand's first level,
 * weighed as by `ofHands`. `beats[i]`: how long chord i lasts, in beats of the tempo.
 */
export function ofPlan(
  chords: readonly (string | Chord)[],
  beats: readonly number[],
  tempo: Pace,
  options: RightHandOptions & { readonly key?: Key } = {},
): PlanDifficulty | Failure {
  const right = planRight(chords, options);
  if (!right.ok) return right;
  const left = planLeft(chords, { right: right.shapes.map((shape) => shape.notes) });
  const { moves, shapes, total: motion } = right;
  const leftShifts = left.ok ? left.shifts : null;
  const hands = { chords: chords.map(nameOf), moves, shapes, motion, leftShifts };
  return ofHands(hands, beats, tempo, options.key);
}

const isList = (tempo: Pace | readonly Pace[]): tempo is readonly Pace[] => Array.isArray(tempo);

/**
 * How hard hands that are planned already have it, every move weighed by `ofMove`. Made to compare
 * keys of one song: plan each key alike, compare the totals. `tempo`: one for all moves, or of each its own.
 */
export function ofHands(
  hands: PlannedHands,
  beats: readonly number[],
  tempo: Pace | readonly Pace[],
  key?: Key,
): PlanDifficulty {
  const costs = new Map<DifficultyKind, { cost: number; moves: number }>();
  const add = (what: DifficultyKind, cost: number, moves: number) => {
    const before = costs.get(what) ?? { cost: 0, moves: 0 };
    costs.set(what, { cost: before.cost + cost, moves: before.moves + moves });
  };
  const { chords, leftShifts } = hands;
  let hardest: PlanDifficulty['hardest'] = null;
  let widest = 0;
  hands.moves.forEach((move, i) => {
    const pace = isList(tempo) ? (tempo[i] ?? null) : tempo;
    const difficulty = ofMove(move.from, move.to, beats[i] ?? 1, pace);
    for (const { what, cost } of difficulty.items) add(what, cost, 1);
    widest = Math.max(widest, furthest(move.from, move.to));
    if (difficulty.total > (hardest?.total ?? 0))
      hardest = {
        from: chords[i] ?? '',
        to: hands.next?.[i] ?? chords[(i + 1) % chords.length] ?? '',
        total: difficulty.total,
      };
  });
  if (leftShifts) add('left hand', leftShifts * WEIGHTS.leftShift, leftShifts);
  const items = [...costs]
    .map(([what, { cost, moves }]) => ({
      what,
      words: `${WORDS[what]} in ${counted(moves, 'move', 'moves')}`,
      cost: Math.round(cost * 100) / 100,
    }))
    .sort((a, b) => b.cost - a.cost);
  const facts = {
    key: key ?? null,
    shapes: new Set(hands.shapes.map((shape) => shape.notes.map(midiOf).join(' '))).size,
    widest,
    leftShifts,
  };
  return {
    ok: true,
    ...facts,
    total: sum(items),
    items,
    hardest,
    motion: hands.motion,
    phrase: sayBriefly(facts.shapes, hardest),
    sentence: sayPlan(facts),
  };
}

const WORDS: Readonly<Record<DifficultyKind, string>> = {
  'fingers changed': 'a change of fingers',
  'fingers to move': 'fingers to another key',
  "thumb's way": "the thumb's way",
  'contrary motion': 'fingers against each other',
  'black keys': 'thumb or little finger on a black key',
  stretch: 'a stretch',
  'left hand': 'a shift of the left hand',
  time: 'little time',
};

function nameOf(chord: string | Chord): string {
  if (typeof chord !== 'string') return say(chord);
  const result = read(chord);
  return result.ok ? say(result.value) : chord;
}

function furthest(from: Shape, to: Shape): number {
  const { pairs } = between(from.notes, to.notes);
  return pairs.reduce(
    (most, [a, b]) =>
      Math.max(
        most,
        Math.abs(midiOf(from.notes[a] as PitchName) - midiOf(to.notes[b] as PitchName)),
      ),
    0,
  );
}

function sayBriefly(shapes: number, hardest: PlanDifficulty['hardest']): string {
  const change = hardest ? `hardest change ${hardest.from} to ${hardest.to}` : 'no change is hard';
  return `${counted(shapes, 'shape', 'shapes')}, ${change}`;
}

function sayPlan(facts: Pick<PlanDifficulty, 'key' | 'shapes' | 'widest' | 'leftShifts'>): string {
  const { key, shapes, widest, leftShifts } = facts;
  const where = key ? `In ${sayKey(key)}: ` : '';
  const reach =
    widest === 0 ? 'the hand never moves' : `the widest move ${counted(widest, 'key', 'keys')}`;
  const left =
    leftShifts === null
      ? ''
      : leftShifts === 0
        ? '; the left hand stays in one place'
        : `; the left hand shifts ${leftShifts === 1 ? 'once' : `${leftShifts} times`}`;
  return `${where}${counted(shapes, 'shape', 'shapes')}, ${reach}${left}.`;
}

/** Points as a person reads them: whole, or with one decimal where they are few. */
function inWhole(points: number): number {
  return points < 10 ? Math.round(10 * points) / 10 : Math.round(points);
}

/**
 * Which of two keys is easier for the hands, and by what most: `F major is easier for the hands
 * than E major: thumb or little finger on a black key, 0 instead of 6.`
 */
export function compare(one: PlanDifficulty, other: PlanDifficulty): string {
  const [easier, harder] = one.total <= other.total ? [one, other] : [other, one];
  const name = (plan: PlanDifficulty) => (plan.key ? sayKey(plan.key) : 'this');
  if (one.total === other.total)
    return `${name(one)} and ${name(other)} are equally easy for the hands.`;
  const costOf = (plan: PlanDifficulty, what: DifficultyKind) =>
    plan.items.find((item) => item.what === what)?.cost ?? 0;
  const gains = harder.items
    .map(({ what, cost }) => ({ less: cost - costOf(easier, what), cost, what }))
    .sort((a, b) => b.less - a.less);
  const most = gains[0];
  const reason = most
    ? `: ${WORDS[most.what]}, ${costOf(easier, most.what)} instead of ${most.cost}`
    : '';
  return `${name(easier)} is easier for the hands than ${name(harder)} (${inWhole(easier.total)} against ${inWhole(harder.total)})${reason}.`;
}
