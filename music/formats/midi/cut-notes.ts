import { QUARTER, type Bar, type Ticks } from '../../score/score.ts';
import type { Held } from './lines.ts';

export type Tuplet = { readonly actual: number; readonly normal: number };

/** A note or rest as it is written: inside one bar and one tuplet. `pitches` empty: a rest. */
export interface Cut {
  readonly at: Ticks;
  readonly length: Ticks;
  readonly pitches: readonly number[];
  readonly tie: boolean;
  /** What is held begins here. */
  readonly first: boolean;
  readonly tuplet: Tuplet | null;
}

/** A stretch of a bar in which time is divided by 3, 5, 7 or 9. */
interface Group {
  readonly from: Ticks;
  readonly to: Ticks;
  readonly odd: number;
}

const NORMAL: Readonly<Record<number, number>> = { 3: 2, 5: 4, 7: 4, 9: 8 };

/** A line as written notes, with rests between, tied over bar lines and the ends of tuplets. */
export function cutNotes(line: readonly Held[], bars: readonly Bar[]): Cut[] {
  const cuts: Cut[] = [];
  const whole = withRests(line, bars);
  let next = 0;
  for (const bar of bars) {
    const end = bar.at + bar.length;
    const inside: Held[] = [];
    for (let i = next; i < whole.length; i += 1) {
      const held = whole[i] as Held;
      if (held.at >= end) break;
      if (held.end <= end) next = i + 1;
      inside.push(held);
    }
    const moments = inside.flatMap(({ at, end: to }) => [at - bar.at, to - bar.at]);
    const groups = groupsIn(moments.filter((each) => each > 0 && each < bar.length));
    for (const held of inside) cuts.push(...cutOne(held, bar, groups));
  }
  return cuts;
}

/** The line without gaps from the first bar to the last; beyond them there is nothing. */
function withRests(line: readonly Held[], bars: readonly Bar[]): Held[] {
  const last = bars.at(-1);
  const end = last ? last.at + last.length : 0;
  const whole: Held[] = [];
  let at = 0;
  const rest = (to: Ticks): void => {
    if (to > at) whole.push({ at, end: to, pitches: [], tie: false });
  };
  for (const held of line) {
    if (held.at >= end) break;
    rest(held.at);
    at = Math.min(end, held.end);
    whole.push({ ...held, end: at });
  }
  rest(end);
  return whole;
}

function cutOne(held: Held, bar: Bar, groups: readonly Group[]): Cut[] {
  const from = Math.max(held.at, bar.at) - bar.at;
  const to = Math.min(held.end, bar.at + bar.length) - bar.at;
  const at = [from, to];
  for (const group of groups) {
    // A note that fills a group whole is a plain one.
    if (from <= group.from && to >= group.to) continue;
    for (const edge of [group.from, group.to]) if (edge > from && edge < to) at.push(edge);
  }
  const edges = [...new Set(at)].sort((a, b) => a - b);
  return edges.slice(0, -1).map((start, i): Cut => {
    const end = edges[i + 1] ?? to;
    const group = groups.find((each) => start >= each.from && end <= each.to && end - start < each.to - each.from); // prettier-ignore
    const isLast = bar.at + end === held.end;
    return {
      at: bar.at + start,
      length: end - start,
      pitches: held.pitches,
      tie: held.pitches.length > 0 && (!isLast || held.tie),
      first: bar.at + start === held.at,
      tuplet: group ? { actual: group.odd, normal: NORMAL[group.odd] ?? 2 } : null,
    };
  });
}

/** What is left of a moment's divisor of the quarter when the twos are taken out: 1 for plain time. */
function oddPart(moment: Ticks): number {
  let [a, b] = [QUARTER, moment % QUARTER];
  while (b > 0) [a, b] = [b, a % b];
  let odd = QUARTER / a;
  while (odd % 2 === 0) odd /= 2;
  return odd;
}

/** The smallest stretches, each a plain note long from a place of that note, that hold the odd moments; neighbours join. */
function groupsIn(moments: readonly Ticks[]): Group[] {
  const found: Group[] = [];
  for (const moment of moments) {
    const odd = oddPart(moment);
    if (odd === 1 || NORMAL[odd] === undefined) continue;
    let span = QUARTER;
    // Where a sixth of a quarter is asked for, half a quarter is divided by three.
    while ((moment * odd) % span !== 0) span /= 2;
    const from = Math.floor(moment / span) * span;
    found.push({ from, to: from + span, odd });
  }
  const sorted = found.sort((a, b) => a.from - b.from || b.to - a.to);
  const groups: Group[] = [];
  for (const group of sorted) {
    const last = groups.at(-1);
    if (last && group.from < last.to) continue;
    groups.push(group);
  }
  return joined(groups, moments);
}

/** Two groups of one size with nothing that begins between them are one of twice the size: three over two quarters. */
function joined(groups: readonly Group[], moments: readonly Ticks[]): Group[] {
  const result: Group[] = [];
  for (const group of groups) {
    const last = result.at(-1);
    const size = group.to - group.from;
    const isPair =
      last?.to === group.from &&
      last.odd === group.odd &&
      last.to - last.from === size &&
      last.from % (2 * size) === 0 &&
      !moments.includes(group.from) &&
      moments
        .filter((each) => each > last.from && each < group.to)
        .every((each) => ((each - last.from) * group.odd) % (2 * size) === 0);
    if (isPair) result[result.length - 1] = { ...last, to: group.to };
    else result.push(group);
  }
  return result;
}
