import { of as countIn } from '../../score/count-in.ts';
import { passesOf, unfold } from '../../score/form.ts';
import { inForceOver } from '../../score/cuts.ts';
import { QUARTER, type Meter, type Score, type Ticks } from '../../score/score.ts';
import { changingTempos, temposOf, type TempoFrom } from '../../score/tempos.ts';
import { barLength, countedBeat, endOf, inForce, tempoAt } from '../../score/time.ts';

/** A stretch of the score in the file: where it begins there, and which verse is sung. */
export interface Played {
  readonly from: Ticks;
  readonly to: Ticks;
  /** In the file, the count included. */
  readonly at: Ticks;
  /** Index into `score.verses`; null: the words of no verse. */
  readonly verse: number | null;
  /** What begins here: names of sections or passes. */
  readonly marks: readonly { readonly at: Ticks; readonly name: string }[];
}

/** A bar of the file: one of the score, or two halves that a repeat had cut, or a last bar with the pickup after it. */
export interface PlayedBar {
  readonly at: Ticks;
  readonly length: Ticks;
  readonly meter: Meter;
}

/** Everything on the time line of the file, still in the ticks of scores. */
export interface Plan {
  readonly played: readonly Played[];
  readonly bars: readonly PlayedBar[];
  /** Moments of the numbers that are spoken before the song. */
  readonly counts: readonly Ticks[];
  /** Each where it begins, the first at 0: what is counted before the song is counted in it. */
  readonly tempos: readonly TempoFrom[];
  readonly end: Ticks;
}

export function planOf(score: Score, form: boolean, counted: boolean): Plan {
  const stretches = form ? ofForm(score) : [onceThrough(score)];
  const first = stretches[0];
  const lead = counted && first ? leadOf(score, first.from) : { length: 0, counts: [] };
  const played = stretches.map((stretch): Played => ({
    ...stretch,
    at: stretch.at + lead.length,
    marks: stretch.marks.map(({ at, name }) => ({ at: at + lead.length, name })),
  }));
  const last = played.at(-1);
  const end = last ? last.at + last.to - last.from : 0;
  const bars = barsOf(score, played, lead.length);
  return { played, bars, counts: lead.counts, tempos: temposIn(score, played), end };
}

/** The tempo of every stretch, which is that of its place in the song, also where it is played again. */
function temposIn(score: Score, played: readonly Played[]): TempoFrom[] {
  const tempos = temposOf(score);
  const all = played.flatMap(({ from, to, at }) => inForceOver(tempos, { from, to }, at - from));
  return changingTempos(all.map((each, i) => (i === 0 ? { ...each, at: 0 } : each)));
}

function onceThrough(score: Score): Played {
  const marks = score.sections.map(({ from, name }) => ({ at: from, name }));
  const verse = score.verses.length > 0 ? 0 : null;
  return { from: 0, to: endOf(score), at: 0, verse, marks };
}

function ofForm(score: Score): Played[] {
  const passes = passesOf(score);
  let pass = -1;
  return unfold(score).map(({ index, from, to, playedAt }): Played => {
    const begins = index !== pass;
    pass = index;
    const named = passes[index];
    const number = named?.pass.verse ?? null;
    const verse = score.verses.findIndex((each) => each.number === number);
    return {
      from,
      to,
      at: playedAt,
      verse: verse < 0 ? null : verse,
      marks: begins && named ? [{ at: playedAt, name: named.name }] : [],
    };
  });
}

/** How long is counted before the song, and when: one full bar and what a pickup leaves of the next (see `count-in.ts`). */
function leadOf(score: Score, from: Ticks): { length: Ticks; counts: Ticks[] } {
  const bar = inForce(score.bars, from);
  const { meter } = inForce(score.meters, bar.at);
  const full = barLength(meter);
  if (full === null) return { length: 0, counts: [] };
  const into = from - bar.at;
  const missing = bar.number === 0 ? Math.max(0, full - bar.length) : 0;
  const length = full + missing + into;
  const { counts, beat, enterAt } = countIn(score, tempoAt(score, from));
  const spoken = from === 0 && enterAt < length + full ? counts.length : Math.ceil(length / beat);
  return { length, counts: Array.from({ length: spoken }, (_, i) => i * beat) };
}

function barsOf(score: Score, played: readonly Played[], lead: Ticks): PlayedBar[] {
  const pieces: PlayedBar[] = [];
  for (const { from, to, at } of played) {
    for (const bar of score.bars) {
      const start = Math.max(from, bar.at);
      const end = Math.min(to, bar.at + bar.length);
      if (end <= start) continue;
      const { meter } = inForce(score.meters, bar.at);
      pieces.push({ at: at + start - from, length: end - start, meter });
    }
  }
  const [first] = pieces;
  const full = first && barLength(first.meter);
  if (lead > 0 && first && full) {
    pieces.unshift({ at: 0, length: full, meter: first.meter });
    if (lead > full) pieces.splice(1, 0, { at: full, length: lead - full, meter: first.meter });
  }
  return whole(pieces);
}

/** Joins two neighbours that make up one full bar. */
function whole(pieces: readonly PlayedBar[]): PlayedBar[] {
  const bars: PlayedBar[] = [];
  for (const piece of pieces) {
    const last = bars.at(-1);
    const full = barLength(piece.meter);
    const completes =
      last?.meter.beats === piece.meter.beats &&
      last.meter.unit === piece.meter.unit &&
      full !== null &&
      last.length + piece.length === full;
    if (completes) bars[bars.length - 1] = { ...last, length: full };
    else bars.push(piece);
  }
  return bars;
}

/** Moments of the counted beats; `first`: of a bar. A short first bar is a pickup and is counted to its end. */
export function beatsOf({ bars, tempos }: Plan): { at: Ticks; first: boolean }[] {
  return bars.flatMap(({ at, length, meter }, i) => {
    const full = barLength(meter);
    if (full === null) return [];
    const beat = countedBeat(meter, inForce(tempos, at).tempo);
    const isPickup = i === 0 && length < full;
    const into = isPickup ? (full - length) % beat : 0;
    const beats: { at: Ticks; first: boolean }[] = [];
    for (let place = into === 0 ? 0 : beat - into; place < length; place += beat) {
      beats.push({ at: at + place, first: place === 0 && !isPickup });
    }
    return beats;
  });
}

/** What a bar's length is written as: its own meter, or for another length the figures that say it; null: none do. */
export function figuresOf({ length, meter }: PlayedBar): { beats: number; unit: number } | null {
  if (meter.beats !== null && barLength(meter) === length)
    return { beats: meter.beats, unit: meter.unit };
  for (const unit of [meter.unit, 4, 8, 16, 32, 64]) {
    const beats = (length * unit) / (4 * QUARTER);
    if (Number.isInteger(beats) && beats >= 1 && beats <= 64) return { beats, unit };
  }
  return null;
}
