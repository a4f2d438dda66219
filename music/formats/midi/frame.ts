import type { Problem } from '../../result.ts';
import { QUARTER, type Bar, type MeterAt, type Ticks } from '../../score/score.ts';
import { barLength } from '../../score/time.ts';
import { ticksOf } from './parts.ts';
import type { Smf } from './smf.ts';

/** Bars of one song; a long anthem has five hundred. */
export const MOST_BARS = 4000;

/** The meters of a file, the first at 0; 4/4 where it names none (the default of RP-001). */
export function metersOf(smf: Smf, warnings: Problem[]): MeterAt[] {
  const ticks = ticksOf(smf);
  const events = smf.tracks.flatMap(({ meters }) => meters).sort((a, b) => a.at - b.at);
  const meters: MeterAt[] = [];
  for (const { at, beats, unit } of events) {
    if (beats < 1 || beats > 64 || unit < 1 || unit > 64) {
      const message = `The meter ${String(beats)}/${String(unit)} in this file is none and is left out.`;
      warnings.push({ code: 'meter-odd', message });
      continue;
    }
    const entry: MeterAt = { at: ticks(at), meter: { beats, unit } };
    const last = meters.at(-1);
    if (last?.at === entry.at) meters[meters.length - 1] = entry;
    else if (last?.meter.beats !== beats || last.meter.unit !== unit) meters.push(entry);
  }
  if (meters[0]?.at === 0) return meters;
  if (meters.length === 0) {
    const message =
      'The file names no meter; it is read in 4/4, which is what the standard says of such files.';
    warnings.push({ code: 'guess-meter', message });
  }
  return [{ at: 0, meter: { beats: 4, unit: 4 } }, ...meters];
}

/** How the time line of a file becomes that of the song: `from` is where the song begins. */
export interface Frame {
  readonly from: Ticks;
  readonly meters: readonly MeterAt[];
  readonly bars: readonly Bar[];
}

export interface Extent {
  /** Where the first note begins and the last one ends. */
  readonly first: Ticks;
  readonly last: Ticks;
  /** Where the file says that its tracks end. */
  readonly end: Ticks;
  /** Where the first stroke of the drums falls; null: there is none. */
  readonly drums: Ticks | null;
}

/** Bars, pickup and empty beginning. Null: more bars than a song has. */
export function frameOf(
  given: readonly MeterAt[],
  extent: Extent,
  warnings: Problem[],
): Frame | null {
  const short = shortFirst(given);
  const meters = short ? given.slice(1) : given;
  const end = endOf(extent, given);
  const starts = barStarts(given, end);
  if (starts.length > MOST_BARS) return null;
  const into = starts.findLastIndex((at) => at <= extent.first);
  const counted = into > 0 && extent.drums !== null && extent.drums < (starts[into] ?? 0);
  let begin = counted ? into : 0;
  let from = starts[begin] ?? 0;
  let pickup = short && begin === 0;
  if (counted) {
    const message = `The first ${into === 1 ? 'bar has' : `${String(into)} bars have`} drums alone: that is taken for the count and left out.`;
    warnings.push({ code: 'info-count-in', message });
  }
  const next = starts[begin + 1] ?? end;
  const late = extent.first - from;
  const lastStart = starts.at(-1) ?? 0;
  const isMadeUp = end - lastStart === late && starts.length > 1;
  if (!pickup && late * 2 >= next - from && extent.first < next && (counted || isMadeUp)) {
    from = extent.first;
    pickup = true;
  }
  if (pickup) {
    const message = 'The notes before the first full bar are taken for a pickup.';
    warnings.push({ code: 'guess-pickup', message });
  }
  if (begin > 0) begin = starts.indexOf(starts[begin] ?? 0);
  const lines = [from, ...starts.slice(begin + 1)].map((at) => at - from);
  const own = shifted(meters, short && begin === 0 ? 0 : from, from);
  return { from, meters: own, bars: barsOf(lines, own, end - from, pickup) };
}

/** A first meter of one bar that is shorter than what follows is how programs write a pickup. */
function shortFirst(meters: readonly MeterAt[]): boolean {
  const [first, second] = meters;
  if (!first || !second) return false;
  const length = barLength(first.meter) ?? 0;
  return second.at === length && length < (barLength(second.meter) ?? 0);
}

/** The end of the last note, or that of the tracks where it is a moment of the beat up to four bars later. */
function endOf({ last, end }: Extent, meters: readonly MeterAt[]): Ticks {
  const meter = meters.findLast(({ at }) => at < last)?.meter;
  const full = (meter && barLength(meter)) ?? 4 * QUARTER;
  return end > last && end - last <= 4 * full && end % (QUARTER / 4) === 0 ? end : last;
}

function barStarts(meters: readonly MeterAt[], end: Ticks): Ticks[] {
  const starts: Ticks[] = [];
  for (const [i, { at, meter }] of meters.entries()) {
    const to = Math.min(end, meters[i + 1]?.at ?? end);
    const full = barLength(meter) ?? 4 * QUARTER;
    for (let start = at; start < to && starts.length <= MOST_BARS; start += full)
      starts.push(start);
  }
  return starts.length === 0 ? [0] : starts;
}

/** Meters from where the song begins: the one in force there stands at 0. */
function shifted(meters: readonly MeterAt[], inForceAt: Ticks, from: Ticks): MeterAt[] {
  const index = Math.max(
    0,
    meters.findLastIndex(({ at }) => at <= inForceAt),
  );
  return meters.slice(index).map(({ at, meter }, i) => ({ at: i === 0 ? 0 : at - from, meter }));
}

function barsOf(
  lines: readonly Ticks[],
  meters: readonly MeterAt[],
  end: Ticks,
  pickup: boolean,
): Bar[] {
  return lines.map((at, i): Bar => {
    const isLast = i === lines.length - 1;
    const meter = meters.findLast((each) => each.at <= at)?.meter;
    const full = (meter && barLength(meter)) ?? 4 * QUARTER;
    const first = pickup ? (lines[1] ?? end) : 0;
    // The last bar is full, or is made up by the pickup.
    const made = pickup && end - at + first === full;
    const length = isLast
      ? made
        ? end - at
        : Math.max(full, end - at)
      : (lines[i + 1] ?? end) - at;
    return {
      number: pickup ? i : i + 1,
      at,
      length,
      line: isLast ? 'final' : 'single',
      repeatStart: false,
      repeatEnd: false,
      endings: [],
    };
  });
}
