import type { Bar, Meter, MeterAt, Ticks } from '../../../score/score.ts';
import { barLength, inForce } from '../../../score/time.ts';
import { sayBeats } from '../../say-beats.ts';
import type { Report } from '../../report.ts';
import type { ReadMeasure, ReadPart } from './read-part.ts';

const FREE: Meter = { beats: null, unit: 4 };

/** The time line of a song: where each measure of the file begins and how long it is. */
export interface Frame {
  readonly starts: readonly Ticks[];
  readonly lengths: readonly Ticks[];
  readonly end: Ticks;
  readonly meters: readonly MeterAt[];
}

/** Lengths of the bars on which the parts agree; null where they do not (told). */
export function frameOf(
  parts: readonly ReadPart[],
  nameOf: (part: ReadPart) => string,
  report: Report,
): Frame | null {
  const model = parts[0];
  if (!model) return null;
  for (const part of parts) {
    if (part.measures.length === model.measures.length) continue;
    const words = `${nameOf(part)} has ${String(part.measures.length)} bars and ${nameOf(model)} ${String(model.measures.length)}, so their notes cannot be placed.`;
    report.problem('parts-disagree', words, { line: part.measures.at(-1)?.line ?? 1 });
  }
  if (report.problems.length > 0) return null;
  const starts: Ticks[] = [];
  const lengths: Ticks[] = [];
  let at = 0;
  let meter = FREE;
  for (const [index, measure] of model.measures.entries()) {
    meter = meterIn(parts, index) ?? meter;
    const all = parts.map((part) => part.measures[index] as ReadMeasure);
    const sounding = Math.max(...all.map(({ sounds }) => sounds));
    const isLast = index > 0 && index === model.measures.length - 1;
    const pickup = lengths[0] ?? 0;
    // What a file steps over at the very end, the pickup has: the song ends with its last note.
    const madeUp = isLast && sounding > 0 && sounding + pickup === barLength(meter);
    const length =
      (madeUp ? sounding : Math.max(...all.map(({ extent }) => extent))) ||
      Math.max(...all.map(({ restExtent }) => restExtent)) ||
      (barLength(meter) ?? 0);
    if (length === 0) {
      const words = `Bar ${measure.number} is empty, and no meter says how long it is.`;
      report.problem('bar-empty', words, { line: measure.line });
    }
    compare(parts, index, length, meter, nameOf, report);
    starts.push(at);
    lengths.push(length);
    at += length;
  }
  if (report.problems.length > 0) return null;
  return { starts, lengths, end: at, meters: metersOf(parts, starts, report) };
}

/** The meter that a measure begins with, where it is new. */
function meterIn(parts: readonly ReadPart[], measure: number): Meter | null {
  for (const part of parts) {
    const found = part.meters.find((each) => each.measure === measure && each.at === 0);
    if (found) return found.meter;
  }
  return null;
}

function compare(
  parts: readonly ReadPart[],
  index: number,
  length: Ticks,
  meter: Meter,
  nameOf: (part: ReadPart) => string,
  report: Report,
): void {
  const longest = parts.find((part) => (part.measures[index]?.extent ?? 0) >= length);
  for (const part of parts) {
    const measure = part.measures[index];
    if (!measure || !longest || measure.extent >= length || measure.restExtent > 0) continue;
    const at = { line: measure.line };
    if (!measure.hasPitches) {
      const words = `Bar ${measure.number} of ${nameOf(part)} is silent and shorter than in ${nameOf(longest)}; it is filled with a rest.`;
      report.warn('bar-empty-in-part', words, at);
    } else {
      const words = `Bar ${measure.number} of ${nameOf(part)} has ${sayBeats(measure.extent, meter)}, in ${nameOf(longest)} it has ${sayBeats(length, meter)}.`;
      report.problem('voices-disagree', words, at);
    }
  }
}

/** Meters by their moments; one that only goes on is no change. */
function metersOf(parts: readonly ReadPart[], starts: readonly Ticks[], report: Report): MeterAt[] {
  const meters: MeterAt[] = [];
  for (const { at, value, line, count } of merged(parts, starts, (part) =>
    part.meters.map((each) => ({ ...each, value: each.meter })),
  )) {
    const before = meters.at(-1)?.meter;
    if (before?.beats === value.beats && before?.unit === value.unit) continue;
    if (meters.length === 0 && at > 0) meters.push({ at: 0, meter: FREE });
    if (at > 0 && count < parts.length) {
      const words = `The meter changes here in ${String(count)} of ${String(parts.length)} parts only.`;
      report.warn('meter-change-not-in-all', words, { line });
    }
    meters.push({ at, meter: value });
  }
  return meters.length > 0 ? meters : [{ at: 0, meter: FREE }];
}

interface Mark<T> {
  readonly measure: number;
  readonly at: Ticks;
  readonly line: number;
  readonly value: T;
}

/** What should stand in every part at the same moment; the first part that has it is followed. */
export function merged<T>(
  parts: readonly ReadPart[],
  starts: readonly Ticks[],
  marksOf: (part: ReadPart) => readonly Mark<T>[],
): { at: Ticks; value: T; line: number; count: number }[] {
  const found = new Map<Ticks, { at: Ticks; value: T; line: number; count: number }>();
  for (const part of parts) {
    const own = new Set<Ticks>();
    for (const { measure, at, line, value } of marksOf(part)) {
      const time = (starts[measure] ?? 0) + at;
      const before = found.get(time);
      if (!before) found.set(time, { at: time, value, line, count: 1 });
      else if (!own.has(time)) before.count += 1;
      own.add(time);
    }
  }
  return [...found.values()].sort((a, b) => a.at - b.at);
}

const LINES: Readonly<Record<string, Bar['line']>> = {
  'light-light': 'double',
  'heavy-light': 'double',
  'light-heavy': 'final',
  'heavy-heavy': 'final',
  heavy: 'double',
  none: 'none',
  dashed: 'dashed',
  dotted: 'dashed',
};

/** The lines, repeats and endings of one measure, from whichever part has them. */
function linesOf(parts: readonly ReadPart[], index: number) {
  const all = parts.flatMap((part) => part.measures[index] ?? []);
  return {
    leftStyle: all.find(({ leftStyle }) => leftStyle !== null)?.leftStyle ?? null,
    rightStyle: all.find(({ rightStyle }) => rightStyle !== null)?.rightStyle ?? null,
    repeatStart: all.some(({ repeatStart }) => repeatStart),
    repeatEnd: all.some(({ repeatEnd }) => repeatEnd),
    endingStart: all.find(({ endingStart }) => endingStart !== null)?.endingStart ?? null,
    endingStop: all.some(({ endingStop }) => endingStop),
  };
}

/** Bars with their numbers, lines, repeats and endings; short and long ones are told. */
export function barsOf(parts: readonly ReadPart[], frame: Frame, report: Report): Bar[] {
  const { starts, lengths, meters } = frame;
  const numbers = numbersOf(parts[0]?.measures ?? [], frame, report);
  let endings: readonly number[] = [];
  const bars = starts.map((at, index): Bar => {
    const lines = linesOf(parts, index);
    const after = index + 1 < starts.length ? linesOf(parts, index + 1) : null;
    if (lines.endingStart) endings = lines.endingStart;
    const own = endings;
    const style = lines.rightStyle ?? (after?.repeatStart ? null : (after?.leftStyle ?? null));
    const line = LINES[style ?? ''] ?? 'single';
    if (lines.endingStop || lines.repeatEnd || line === 'final') endings = [];
    return {
      number: numbers[index] ?? index + 1,
      at,
      length: lengths[index] ?? 0,
      line: lines.repeatEnd && line === 'single' ? 'final' : line,
      repeatStart: lines.repeatStart,
      repeatEnd: lines.repeatEnd,
      endings: [...own],
    };
  });
  tellLengths(bars, meters, parts[0]?.measures ?? [], report);
  return bars;
}

/**
 * Numbers as they are spoken. The file's own, where they count; a measure that the file does not count is the pickup
 * at the beginning and later the rest of the bar before it.
 */
function numbersOf(measures: readonly ReadMeasure[], frame: Frame, report: Report): number[] {
  const numbers: number[] = [];
  let odd = 0;
  for (const { number, implicit, line } of measures) {
    const before = numbers.at(-1);
    const given = /^\d{1,6}$/.test(number) ? Number(number) : null;
    // `4a` and `X4` are not counted either: the rest of bar 4.
    const part =
      given === null && before !== undefined && /\d+/.exec(number)?.[0] === String(before);
    // Bars before the first are 0, however many (an introduction).
    const uncounted = implicit || part || (given === 0 && before === 0);
    const next = before === undefined ? (implicit ? 0 : 1) : uncounted ? before : before + 1;
    const follows = given === next || (before === undefined && given !== null && !implicit);
    numbers.push(follows && given !== null ? given : next);
    if (!follows && !uncounted) odd ||= line;
  }
  if (odd > 0) {
    const words = 'From here on the numbers of the bars are not in order; they are counted anew.';
    report.warn('bar-numbers', words, { line: odd });
  }
  const full = barLength(inForce(frame.meters, 0).meter);
  const short = full !== null && (frame.lengths[0] ?? 0) < full && measures.length > 1;
  if (!short || numbers[0] !== 1) return numbers;
  const words = 'The file counts its pickup as bar 1; here, as usual, the first full bar is bar 1.';
  report.warn('info-pickup-number', words, { line: measures[0]?.line ?? 1 });
  return numbers.map((number) => number - 1);
}

function tellLengths(
  bars: readonly Bar[],
  meters: readonly MeterAt[],
  measures: readonly ReadMeasure[],
  report: Report,
): void {
  const pickup = bars[0]?.number === 0 ? bars[0].length : 0;
  for (const [index, bar] of bars.entries()) {
    const { meter } = inForce(meters, bar.at);
    const full = barLength(meter);
    if (full === null || bar.length === full || (index === 0 && bar.number === 0)) continue;
    const at = { line: measures[index]?.line ?? 1 };
    const words = `Bar ${String(bar.number)} has ${sayBeats(bar.length, meter)} where the meter has ${sayBeats(full, meter)}.`;
    if (bar.length > full) report.warn('bar-too-long', words, at);
    else if (!isHalf(bars, index, full) && !endsWithPickup(bars, index, full - pickup)) {
      report.warn('bar-too-short', words, at);
    }
  }
}

/** Half of a bar that a line cuts in two: by its number, or by a line that is not a plain one. */
function isHalf(bars: readonly Bar[], index: number, full: Ticks): boolean {
  const makes = (first: Bar | undefined, second: Bar | undefined): boolean =>
    first !== undefined &&
    second !== undefined &&
    first.length + second.length === full &&
    (first.number === second.number ||
      first.line !== 'single' ||
      second.repeatStart ||
      first.endings.join() !== second.endings.join());
  return makes(bars[index - 1], bars[index]) || makes(bars[index], bars[index + 1]);
}

/** The last bar, or one that repeats, gives the pickup what it took. */
function endsWithPickup(bars: readonly Bar[], index: number, length: Ticks): boolean {
  const bar = bars[index];
  return bar?.length === length && (index === bars.length - 1 || bar.repeatEnd);
}
