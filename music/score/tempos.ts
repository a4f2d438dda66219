import { SCORE_LIMITS } from './limits.ts';
import {
  QUARTER,
  type Bar,
  type Score,
  type Span,
  type Tempo,
  type TempoAt,
  type Ticks,
} from './score.ts';
import { inForce, isPickup } from './time.ts';

/** A tempo from a moment on; null: not said. */
export interface TempoFrom {
  readonly at: Ticks;
  readonly tempo: Tempo | null;
}

type WithTempos = Pick<Score, 'tempo' | 'tempoChanges'>;

/** Every tempo of a song in order, the first at 0: what was in force can be looked up as for keys and meters. */
export function temposOf({ tempo, tempoChanges = [] }: WithTempos): TempoFrom[] {
  return [{ at: 0, tempo }, ...tempoChanges];
}

const isSame = (a: Tempo | null | undefined, b: Tempo): boolean =>
  a?.beat === b.beat && a.perMinute === b.perMinute;

/** Entries that change nothing are dropped, and so is one that would take a tempo back without another. */
export function changingTempos(list: readonly TempoFrom[]): TempoFrom[] {
  const kept: TempoFrom[] = [];
  for (const each of list) {
    if (kept.length === 0 || (each.tempo && !isSame(kept.at(-1)?.tempo, each.tempo)))
      kept.push(each);
  }
  return kept;
}

/** A score with these tempos in the place of its own; the first stands at 0. `tempoChanges` is there only where it changes. */
export function withTempos<T extends WithTempos>(score: T, list: readonly TempoFrom[]): T {
  const { tempoChanges: _before, ...bare } = score;
  const [first, ...later] = changingTempos(list);
  const changes = later.flatMap(({ at, tempo }): TempoAt[] => (tempo ? [{ at, tempo }] : []));
  const whole = { ...bare, tempo: first?.tempo ?? null };
  return (changes.length > 0 ? { ...whole, tempoChanges: changes } : whole) as T;
}

/** Quarters a minute. */
export const quartersPerMinute = ({ beat, perMinute }: Tempo): number =>
  (perMinute * beat) / QUARTER;

/** Beats a minute that a score can hold. */
const [SLOWEST, FASTEST] = [1, 1000];

/**
 * The song at the tempo of an arrangement; null: at its own. The given tempo takes the place of the one at the start, and
 * the changes keep their ratio to it, to the nearest whole beat a minute: what was half as fast stays half as fast. Where
 * the song says no tempo at its start there is no ratio, and its changes stay as they are.
 */
export function inTempo<T extends WithTempos>(score: T, tempo: Tempo | null): T {
  if (!tempo) return score;
  const ratio = score.tempo ? quartersPerMinute(tempo) / quartersPerMinute(score.tempo) : 1;
  const changes = (score.tempoChanges ?? []).map(({ at, tempo: own }): TempoFrom => {
    const perMinute = ratio === 1 ? own.perMinute : Math.round(own.perMinute * ratio);
    const held = Math.min(FASTEST, Math.max(SLOWEST, perMinute));
    return { at, tempo: { beat: own.beat, perMinute: held } };
  });
  return withTempos(score, [{ at: 0, tempo }, ...changes]);
}

/** Seconds from one moment of the score to a later one as it is written; null where no tempo is said for all of it. */
export function secondsBetween(score: WithTempos, { from, to }: Span): number | null {
  if (to <= from) return 0;
  const tempos = temposOf(score);
  const within = tempos.filter(({ at }) => at > from && at < to);
  const stretches = [{ ...inForce(tempos, from), at: from }, ...within];
  let seconds = 0;
  for (const [i, { at, tempo }] of stretches.entries()) {
    if (!tempo) return null;
    const ticks = (stretches[i + 1]?.at ?? to) - at;
    seconds += (ticks / tempo.beat / tempo.perMinute) * 60;
  }
  return seconds;
}

/**
 * What a file says of its tempos, in order and one a moment, as a score keeps it. The first one holds from the start where
 * it is said in a pickup or at its end: that is where many programs print it. `left`: more than a song holds.
 */
export function temposFrom(
  said: readonly TempoAt[],
  bars: readonly Bar[],
): { tempos: Pick<Score, 'tempo' | 'tempoChanges'>; left: number } {
  const last = bars.at(-1);
  const inside = said.filter(({ at }) => at >= 0 && last && at < last.at + last.length);
  const [first] = inside;
  const [opening, next] = bars;
  const late = opening && next && isPickup(opening) ? next.at : 0;
  const start = { at: 0, tempo: first && first.at <= late ? first.tempo : null };
  const list = changingTempos([start, ...inside.filter(({ at }) => at > 0)]);
  const kept = list.slice(0, SCORE_LIMITS.bars);
  const bare: Pick<Score, 'tempo' | 'tempoChanges'> = { tempo: null };
  return { tempos: withTempos(bare, kept), left: list.length - kept.length };
}

export const sayLeft = (left: number): string =>
  `The tempo changes ${left} times more than a song can hold; those at the end are left out.`;
