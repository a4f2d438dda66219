import { pitchOn } from '../../hand/candidates.ts';
import { REGISTER } from '../../hand/right-hand-options.ts';
import { midiOf, pitchClassOf, type NoteName, type PitchName } from '../../pitch/pitch.ts';

/** Up to a note above the register of the shapes: single notes need no room below them. */
export const HIGHEST = midiOf('A5');
const [LOW, HIGH] = [midiOf(REGISTER.low), HIGHEST];
/** A step of a scale is no wider. */
const STEP = 2;
/** The furthest first note from the top note before it: a third, so that the hand need not jump (ours). */
const FIRST = 4;

export interface FillOptions {
  /** The top note that the hand leaves. */
  readonly from: PitchName;
  /** The top note that it comes to. */
  readonly to: PitchName;
  readonly count: number;
  readonly scale: readonly NoteName[];
  /** What is sung meanwhile; null: nothing. */
  readonly sung: PitchName | null;
}

/**
 * Notes of the scale that go by step to a goal, beginning a third at most from where the hand is, none of them a half step
 * from what is sung, in any octave: one that comes to its goal only at its end, or as rarely before it as can be, then the
 * shortest way, then the lowest where two first differ. null: there is none.
 */
export function fillBetween({ from, to, count, scale, sung }: FillOptions): PitchName[] | null {
  const goal = midiOf(to);
  const start = midiOf(from);
  const keys = keysOfScale(scale).filter((key) => sung === null || !isHalfStep(key, midiOf(sung)));
  let best: { readonly line: readonly number[]; readonly rank: readonly number[] } | null = null;
  const grow = (line: readonly number[]): void => {
    const first = line[0] ?? goal;
    if (line.length === count) {
      if (Math.abs(first - start) > FIRST) return;
      const way = [start, ...line, goal];
      const length = way.reduce((sum, key, i) => sum + Math.abs(key - (way[i - 1] ?? key)), 0);
      const early = line.filter((key) => key === goal).length;
      const rank = [early, length, ...line];
      if (!best || isLess(rank, best.rank)) best = { line, rank };
      return;
    }
    for (const key of keys) {
      const step = Math.abs(key - first);
      if (step > 0 && step <= STEP) grow([key, ...line]);
    }
  };
  grow([]);
  const found = best as { readonly line: readonly number[] } | null;
  return (
    found?.line.map((key) =>
      pitchOn(scale.find((note) => pitchClassOf(note) === key % 12) as NoteName, key),
    ) ?? null
  );
}

function keysOfScale(scale: readonly NoteName[]): number[] {
  const classes = scale.map(pitchClassOf);
  return Array.from({ length: HIGH - LOW + 1 }, (_, i) => LOW + i).filter((key) =>
    classes.includes(key % 12),
  );
}

/** A half step apart in any octave. */
export const isHalfStep = (a: number, b: number): boolean => [1, 11].includes(Math.abs(a - b) % 12);

function isLess(a: readonly number[], b: readonly number[]): boolean {
  const at = a.findIndex((each, i) => each !== b[i]);
  return at >= 0 && (a[at] ?? 0) < (b[at] ?? 0);
}
