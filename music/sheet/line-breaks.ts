/** What speaks for and against a line of bars. */
export interface BarForBreaking {
  /** Its natural width without clef and key. */
  readonly width: number;
  /** How strongly a phrase ends with it: 0 no, 1 yes in every verse. */
  readonly phraseEnd: number;
  /** A pickup or the rest of a bar cut in two: not counted among the bars of a line. */
  readonly partial: boolean;
  /** The line ends with it: the next section begins after it. */
  readonly ends: boolean;
}

/** Bars a line holds where the words allow (a beginner reads phrases of four bars; common practice of song books). */
const BARS_A_LINE = 4;

/** Costs of a line, so that each reads as: how much empty line would you rather have? */
const COST = {
  /** Emptiness, squared, of a line that is not the last. */
  empty: 0.4,
  /** For each bar more or fewer than four. */
  otherCount: 0.12,
  /** A line that breaks inside a phrase. */
  insidePhrase: 0.2,
  /** A last line of one bar. */
  widow: 1,
  /** Each line: few are better than many. */
  line: 0.05,
} as const;

/** What one line costs; Infinity where its bars, more than one, do not fit. A bar too wide has a line of its own. */
export function lineCost(
  bars: readonly BarForBreaking[],
  from: number,
  to: number,
  room: number,
): number {
  const line = bars.slice(from, to + 1);
  const width = line.reduce((sum, bar) => sum + bar.width, 0);
  if (width > room && to > from) return Infinity;
  const whole = line.filter(({ partial }) => !partial).length;
  if (to === bars.length - 1) return COST.line + (from > 0 && whole < 2 ? COST.widow : 0);
  const empty = Math.max(0, 1 - width / room);
  return (
    COST.line +
    COST.empty * empty * empty +
    COST.otherCount * Math.abs(whole - BARS_A_LINE) +
    COST.insidePhrase * (1 - (line.at(-1)?.phraseEnd ?? 0))
  );
}

/**
 * The first bars of the lines after the first, so that the sum of the lines' costs is least; of equal ways the one
 * with the longer first lines. Exact, by dynamic programming over the break places. A bar wider than the line has a line
 * of its own.
 * @param first room in the first line, and `other` in each other line, in the unit of the widths
 */
export function chooseBreaks(
  bars: readonly BarForBreaking[],
  first: number,
  other: number,
): number[] {
  const count = bars.length;
  const best = Array.from({ length: count + 1 }, () => ({ cost: Infinity, next: count }));
  best[count] = { cost: 0, next: count };
  for (let from = count - 1; from >= 0; from--) {
    for (let to = from; to < count; to++) {
      const line = lineCost(bars, from, to, from === 0 ? first : other);
      if (line === Infinity) break;
      const cost = line + (best[to + 1]?.cost ?? Infinity);
      if (cost <= (best[from]?.cost ?? Infinity) + 1e-12) best[from] = { cost, next: to + 1 };
      if (bars[to]?.ends) break;
    }
  }
  const breaks: number[] = [];
  for (let at = best[0]?.next ?? count; at < count; at = best[at]?.next ?? count) breaks.push(at);
  return breaks;
}
