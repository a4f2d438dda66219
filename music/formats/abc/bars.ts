import type { Bar, Meter, MeterAt, Ticks } from '../../score/score.ts';
import { barLength, inForce } from '../../score/time.ts';
import type { Report } from '../report.ts';
import { sayBeats } from '../say-beats.ts';
import type { BarMark } from './marks.ts';
import type { VoiceReader } from './voice-reader.ts';

/** The bars of a voice, each with the line of the text where it begins. */
interface Stretch {
  readonly at: Ticks;
  readonly length: Ticks;
  readonly line: number;
}

function stretches(voice: VoiceReader): Stretch[] {
  const ends = voice.bars.map((bar) => bar.at).filter((at) => at > 0);
  if (ends.at(-1) !== voice.main.time) ends.push(voice.main.time);
  const list: Stretch[] = [];
  let at = 0;
  let note = 0;
  for (const end of ends) {
    const { notes } = voice.main;
    while (note < notes.length - 1 && (notes[note]?.at ?? 0) < at) note += 1;
    list.push({ at, length: end - at, line: notes[note]?.line ?? voice.settings.line });
    at = end;
  }
  return list;
}

/**
 * The moments of the bar lines on which the voices agree. Where one voice has a line less or more than the others, and
 * nothing else differs, the others are followed and it is said; where bars differ in length, that is a problem.
 */
export function agreedLines(
  voices: readonly VoiceReader[],
  meter: Meter,
  report: Report,
): Ticks[] | null {
  const all = voices.map((voice) => ({ voice, bars: stretches(voice) }));
  const ends = all.map(({ voice }) => voice.main.time);
  const end = most(ends);
  const before = report.problems.length;
  if (ends.some((each) => each !== end)) {
    const model = all.find(({ voice }) => voice.main.time === end) ?? all[0];
    for (const each of all) {
      if (model && each.voice.main.time !== end) tellDifference(each, model, meter, report);
    }
  }
  if (report.problems.length > before) return null;
  const count = new Map<Ticks, number>();
  for (const { bars } of all) for (const { at } of bars) count.set(at, (count.get(at) ?? 0) + 1);
  const regular = barLength(meter);
  const agreed: Ticks[] = [];
  for (const at of [...count.keys()].sort((a, b) => a - b)) {
    const share = (count.get(at) ?? 0) / all.length;
    const expected = regular !== null && at - (agreed.at(-1) ?? 0) === regular;
    if (share > 0.5 || (share === 0.5 && expected)) agreed.push(at);
  }
  const agreedSet = new Set(agreed);
  for (const { voice, bars } of all) tellLines(voice, bars, agreed, agreedSet, report);
  return report.problems.length > before ? null : agreed;
}

function most(values: readonly number[]): number {
  const count = new Map<number, number>();
  for (const value of values) count.set(value, (count.get(value) ?? 0) + 1);
  let best = values[0] ?? 0;
  for (const [value, times] of count) {
    const known = count.get(best) ?? 0;
    if (times > known || (times === known && value > best)) best = value;
  }
  return best;
}

type Side = { readonly voice: VoiceReader; readonly bars: readonly Stretch[] };

function tellDifference(side: Side, model: Side, meter: Meter, report: Report): void {
  const name = side.voice.settings.id;
  const other = model.voice.settings.id;
  const pickup = (model.bars[0]?.length ?? 0) < (barLength(meter) ?? 0) ? 0 : 1;
  const sameCount = side.bars.length === model.bars.length;
  let told = false;
  for (const [i, bar] of side.bars.entries()) {
    const wanted = model.bars[i];
    if (!wanted || wanted.length === bar.length) continue;
    const words = `Bar ${String(i + pickup)} of voice ${name} has ${sayBeats(bar.length, meter)}, in voice ${other} it has ${sayBeats(wanted.length, meter)}.`;
    report.problem('voices-disagree', words, { line: bar.line });
    told = true;
    if (!sameCount) break; // From here on the bars are no longer the same ones.
  }
  const difference = side.voice.main.time - model.voice.main.time;
  if (!told || !sameCount) {
    const less = difference < 0 ? 'less' : 'more';
    const words = `Voice ${name} has ${sayBeats(Math.abs(difference), meter)} ${less} than voice ${other} (${String(side.bars.length)} bars against ${String(model.bars.length)}), so its notes cannot be placed.`;
    report.problem('voices-disagree', words, {
      line: side.bars.at(-1)?.line ?? side.voice.settings.line,
    });
  }
}

function tellLines(
  voice: VoiceReader,
  bars: readonly Stretch[],
  agreed: readonly Ticks[],
  agreedSet: ReadonlySet<Ticks>,
  report: Report,
): void {
  const own = new Set(bars.map(({ at }) => at));
  const name = voice.settings.id;
  const { notes } = voice.main;
  // Which of the agreed bars hold a line of this voice that the others have not.
  const split = new Map<number, Stretch>();
  let index = 0;
  for (const bar of bars) {
    while ((agreed[index + 1] ?? Infinity) <= bar.at) index += 1;
    if (!agreedSet.has(bar.at)) split.set(index, bar);
  }
  const moved = new Set<number>();
  for (const [i, at] of agreed.entries()) {
    if (own.has(at)) continue;
    const beside = split.has(i) ? i : split.has(i - 1) ? i - 1 : null;
    const here = inForce(notes, at);
    if (beside !== null) {
      moved.add(beside);
      const words = `A bar line of voice ${name} stands where the other voices have none, and one is missing beside it.`;
      report.problem('bar-line-elsewhere', words, { line: split.get(beside)?.line ?? here.line });
    } else if (here.at !== at) {
      const words = `A note of voice ${name} is held over a bar line of the other voices.`;
      report.problem('note-over-bar-line', words, { line: here.line });
    } else {
      const words = `Voice ${name} lacks a bar line that the other voices have; it is added.`;
      report.warn('bar-line-missing', words, { line: here.line });
    }
  }
  for (const [i, bar] of split) {
    if (moved.has(i)) continue;
    const words = `Voice ${name} has a bar line that the other voices have not; it is left out.`;
    report.warn('bar-line-extra', words, { line: bar.line });
  }
}

/** Bars from their beginnings: numbers, lines, repeats and endings; short and long ones are said. */
export function barsOf(
  starts: readonly Ticks[],
  end: Ticks,
  voices: readonly VoiceReader[],
  meters: readonly MeterAt[],
  report: Report,
): Bar[] {
  const marks = new Map<Ticks, BarMark>();
  for (const voice of voices) {
    for (const mark of voice.bars) {
      const before = marks.get(mark.at);
      if (!before || (before.endings.length === 0 && mark.endings.length > 0))
        marks.set(mark.at, mark);
    }
  }
  const melody = voices[0];
  const bars: Bar[] = [];
  let endings: readonly number[] = [];
  let number = 0;
  let open: Ticks = 0; // What a first half has left for its second.
  for (const [i, at] of starts.entries()) {
    const next = starts[i + 1] ?? end;
    const length = next - at;
    const opening = marks.get(at);
    const closing = marks.get(next);
    const { meter } = inForce(meters, at);
    const full = barLength(meter);
    if (opening && opening.endings.length > 0) endings = opening.endings;
    else if (opening && endsEnding(opening, i)) endings = [];
    const completes = open > 0 && length === open;
    open = 0;
    const pickup = i === 0 && full !== null && length < full && starts.length > 1;
    number = pickup || completes ? number : number + 1;
    const last = i === starts.length - 1;
    if (full !== null && length !== full && !pickup && !completes) {
      const line = melody ? inForce(melody.main.notes, at).line : 1;
      const words = `Bar ${String(number)} has ${sayBeats(length, meter)} where the meter has ${sayBeats(full, meter)}`;
      const rest = full - length;
      const following = (starts[i + 2] ?? end) - next;
      const boundary =
        closing &&
        (closing.sign.line !== 'single' ||
          closing.sign.repeatEnd ||
          closing.sign.repeatStart ||
          closing.endings.length > 0);
      const first = bars[0];
      const ofPickup = (first?.number ?? 1) === 0 && rest === first?.length;
      if (length > full) report.warn('bar-too-long', `${words}.`, { line });
      else if (!last && boundary && following === rest) open = rest;
      else if (!((last || closing?.sign.repeatEnd) && ofPickup))
        report.warn('bar-too-short', `${words}.`, { line });
    } else if (last && full !== null && length === full && bars[0]?.number === 0) {
      const line = melody ? inForce(melody.main.notes, at).line : 1;
      const words = `The song begins with a pickup of ${sayBeats(bars[0].length, meter)}, but its last bar is full.`;
      report.warn('pickup-not-made-up', words, { line });
    }
    bars.push({
      number,
      at,
      length,
      line: closing?.sign.line ?? (last ? 'none' : 'single'),
      repeatStart: opening?.sign.repeatStart ?? false,
      repeatEnd: closing?.sign.repeatEnd ?? false,
      endings: [...endings],
    });
  }
  return bars;
}

/** Where an ending stops that no other follows: at a repeat, a double or a final line. */
function endsEnding(mark: BarMark, index: number): boolean {
  const { sign } = mark;
  return (
    index > 0 &&
    (sign.repeatEnd || sign.repeatStart || sign.line === 'double' || sign.line === 'final')
  );
}
