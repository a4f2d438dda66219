import { success, type Result } from '../result.ts';
import { changingMeters } from '../score/cuts.ts';
import { SCORE_LIMITS } from '../score/limits.ts';
import type { Bar, Meter, Note, Score, Span, Ticks } from '../score/score.ts';
import { barLength, endOf } from '../score/time.ts';
import { halfBar, pickupOf, PLAIN_BAR } from './bars.ts';
import type { BarEdit } from './edit.ts';
import { isHeldInto, isPlainRest, restsFor, splitAtBars, untied } from './lay-notes.ts';
import { insertTime } from './move-time.ts';
import { sayBar } from './place-words.ts';
import { isWhole, missingBar, refused, withoutTime } from './refusal.ts';

export function isMeter({ beats, unit }: Meter): boolean {
  const isUnit = isWhole(unit, 1, SCORE_LIMITS.unit) && Number.isInteger(Math.log2(unit));
  return isUnit && (beats === null || isWhole(beats, 1, SCORE_LIMITS.beats));
}

const sayMeter = ({ beats, unit }: Meter): string => `${beats ?? 'no meter'}/${unit}`;

function set(
  score: Score,
  { bar, meter: { beats, unit } }: Extract<BarEdit, { readonly do: 'meter' }>,
): Result<Score> {
  const missing = withoutTime(score) ?? missingBar(score, bar) ?? halfBar(score, bar);
  if (missing) return missing;
  const meter: Meter = { beats, unit };
  if (!isMeter(meter)) return refused('That is no meter.');
  const at = score.bars[bar]?.at ?? 0;
  const others = score.meters.filter((each) => each.at !== at);
  const meters = [...others, { at, meter }].sort((a, b) => a.at - b.at);
  const changed = { ...score, meters: changingMeters(meters) };
  const full = barLength(meter);
  if (full === null) return success(changed);
  if (full > SCORE_LIMITS.barLength) return refused('A bar of that meter is too long.');
  const pickup = bar === 0 ? pickupOf(score) : 0;
  if (pickup >= full) return refused(`The pickup is as long as a bar of ${sayMeter(meter)}; make it shorter first.`); // prettier-ignore
  const next = meters.find((each) => each.at > at)?.at ?? Infinity;
  const last = score.bars.findLastIndex((each) => each.at < next);
  return rebar(changed, { first: bar + (pickup > 0 ? 1 : 0), last, meter, full });
}

interface Rebar {
  /** Indices of the first and last bar that change. */
  readonly first: number;
  readonly last: number;
  readonly meter: Meter;
  readonly full: Ticks;
}

function rebar(score: Score, { first, last, meter, full }: Rebar): Result<Score> {
  const { bars } = score;
  const [opening, closing] = [bars[first], bars[last]];
  if (!opening || !closing || last < first) return success(score);
  const span: Span = { from: opening.at, to: closing.at + closing.length };
  const count = Math.ceil((span.to - span.from) / full);
  if (bars.length - (last - first + 1) + count > SCORE_LIMITS.bars) {
    return refused(
      `In ${sayMeter(meter)} the song would have more than ${SCORE_LIMITS.bars} bars.`,
    );
  }
  const over = count * full - (span.to - span.from);
  // The last bar of a song and its pickup make one (common practice).
  const isMadeUp = over > 0 && span.to === endOf(score) && over === pickupOf(score);
  const starts = Array.from({ length: count }, (_, i) => span.from + i * full);
  const lines = new Set([...starts, span.to]);
  const stuck = bars.slice(first, last + 1).find((bar, i) => {
    const before = bars[first + i - 1];
    const begins = bar.repeatStart || (i > 0 && before?.endings.join() !== bar.endings.join());
    return (begins && !lines.has(bar.at)) || (bar.repeatEnd && !lines.has(bar.at + bar.length));
  });
  if (stuck) {
    return refused(`In ${sayMeter(meter)} the repeat or ending at ${sayBar(score, stuck)} would fall inside a bar; take it away first.`); // prettier-ignore
  }
  const added = isMadeUp ? 0 : over;
  const room = added > 0 ? { ...insertTime(score, span.to, [added]), bars } : score;
  const old = bars.slice(first, last + 1);
  const made = starts.map((at, i): Bar => {
    const to = Math.min(at + full, span.to);
    const isLast = i === count - 1;
    const begins = old.find((bar) => bar.at === at);
    const ends = isLast ? closing : old.find((bar) => bar.at + bar.length === to);
    return {
      ...PLAIN_BAR,
      number: opening.number + i,
      at,
      length: isLast ? to - at + added : full,
      line: ends?.line ?? 'single',
      repeatStart: begins?.repeatStart ?? false,
      repeatEnd: ends?.repeatEnd ?? false,
      endings: old.find((bar) => bar.at <= at && at < bar.at + bar.length)?.endings ?? [],
    };
  });
  const after = bars.slice(last + 1);
  const numberAfter = opening.number + count;
  const shift = after[0] ? numberAfter - after[0].number : 0;
  const moved = after.map((bar): Bar => ({ ...bar, at: bar.at + added, number: Math.max(0, bar.number + shift) })); // prettier-ignore
  const laid = { ...room, bars: [...bars.slice(0, first), ...made, ...moved] };
  const region = { from: span.from, to: span.to + added };
  const oldLines = new Set(old.map(({ at }) => at));
  return success({
    ...laid,
    voices: room.voices.map((voice) => ({
      ...voice,
      notes: relaid(laid, voice.notes, region, oldLines),
    })),
  });
}

/** Notes in new bars: what was parted at a bar line only is whole again, and rests are written as the new bars want them. */
function relaid(
  score: Score,
  notes: readonly Note[],
  { from, to }: Span,
  oldLines: ReadonlySet<Ticks>,
): Note[] {
  const result: Note[] = [];
  let rest: Span | null = null;
  const lines = new Set(score.bars.map(({ at }) => at));
  const flush = (): void => {
    if (rest) result.push(...restsFor(score, rest));
    rest = null;
  };
  for (const note of notes) {
    const end = note.at + note.length;
    if (end <= from || note.at >= to) {
      flush();
      result.push(note);
      continue;
    }
    if (isPlainRest(note) && !note.tuplet && note.at >= from && end <= to) {
      rest = { from: (rest as Span | null)?.from ?? note.at, to: end };
      continue;
    }
    flush();
    const before = result.at(-1);
    const joined = before && oldLines.has(note.at) && !lines.has(note.at) && asOne(before, note);
    if (joined) result[result.length - 1] = joined;
    else result.push(note);
  }
  flush();
  return result.flatMap((note) => {
    const isOutside = note.at + note.length <= from || note.at >= to;
    return isOutside ? [note] : splitAtBars(score.bars, note);
  });
}

/** Two notes that a tie makes one, where the second has nothing of its own. */
function asOne(before: Note, note: Note): Note | null {
  const isWholeTie = isHeldInto(before, note) && before.pitches.join() === note.pitches.join();
  const { syllables, grace, fingers, slurStarts, signs, above, tuplet } = note;
  const own = syllables ?? grace ?? fingers ?? slurStarts ?? signs ?? above ?? tuplet ?? before.slurEnds ?? before.fermata ?? before.tuplet; // prettier-ignore
  if (!isWholeTie || own !== undefined) return null;
  const { slurEnds, fermata, beam, tie } = note;
  const { beam: _beam, ...first } = untied(before);
  return {
    ...first,
    length: before.length + note.length,
    ...(tie && { tie }),
    ...(slurEnds !== undefined && { slurEnds }),
    ...(fermata && { fermata }),
    ...(beam && { beam }),
  };
}

export const METERS = { meter: set };
