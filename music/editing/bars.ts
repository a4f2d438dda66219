import { success, type Failure, type Result } from '../result.ts';
import { SCORE_LIMITS } from '../score/limits.ts';
import type { Bar, Score, Ticks } from '../score/score.ts';
import { barLength, endOf, inForce, isPickup, isSecondHalf } from '../score/time.ts';
import type { BarEdit } from './edit.ts';
import { insertTime, removeTime } from './move-time.ts';
import { sayBar, sayPitches, sayPlace } from './place-words.ts';
import { isWhole, missingBar, refused, withoutTime } from './refusal.ts';

type Of<K extends BarEdit['do']> = Extract<BarEdit, { readonly do: K }>;

export const PLAIN_BAR = {
  line: 'single',
  repeatStart: false,
  repeatEnd: false,
  endings: [],
} as const;

/** Length of the pickup that a song begins with; 0: none. */
export function pickupOf({ bars }: Score): Ticks {
  const [first] = bars;
  return first && bars.length > 1 && isPickup(first) ? first.length : 0;
}

/** Null: a bar begins there, not the second half of one that a double line or a repeat cuts in two. */
export function halfBar(score: Score, bar: number): Failure | null {
  const here = score.bars[bar];
  if (!here || !isSecondHalf(score, bar)) return null;
  return refused(`A line cuts bar ${here.number} in two here; choose the bar before or after it.`);
}

function insert(score: Score, { bar, count }: Of<'insert bars'>): Result<Score> {
  const untimed = withoutTime(score);
  if (untimed) return untimed;
  const { bars } = score;
  if (!isWhole(bar, 0, bars.length)) return refused('The song has no such bar.');
  if (!isWhole(count, 1)) return refused('At least one bar is put in.');
  if (bars.length + count > SCORE_LIMITS.bars) {
    return refused(`A song has at most ${SCORE_LIMITS.bars} bars.`);
  }
  if (bar === 0 && pickupOf(score) > 0) {
    return refused('The song begins with a pickup. Put bars in before bar 1, or take the pickup away first.'); // prettier-ignore
  }
  const half = halfBar(score, bar);
  if (half) return half;
  const at = bars[bar]?.at ?? endOf(score);
  const meter = inForce(score.meters, Math.max(0, at - 1)).meter;
  const beside = bars[bar - 1] ?? bars[bar];
  const length = barLength(meter) ?? beside?.length ?? 0;
  const number = bars[bar]?.number ?? (bars.at(-1)?.number ?? 0) + 1;
  const added = Array.from({ length: count }, (_, i): Bar => ({
    ...PLAIN_BAR,
    number: number + i,
    at: at + i * length,
    length,
  }));
  const before = bars.slice(0, bar);
  const after = bars.slice(bar).map((each): Bar => ({
    ...each,
    number: each.number + count,
    at: each.at + count * length,
  }));
  const [last, end] = [before.at(-1), added.at(-1)];
  if (after.length === 0 && last && end) {
    before[before.length - 1] = { ...last, line: last.repeatEnd ? last.line : 'single' };
    added[added.length - 1] = { ...end, line: last.line };
  }
  const inTime = insertTime(score, at, added.map((each) => each.length)); // prettier-ignore
  return success({ ...inTime, bars: [...before, ...added, ...after] });
}

function remove(score: Score, { from, to }: Of<'remove bars'>): Result<Score> {
  const { bars } = score;
  const missing = missingBar(score, from);
  if (missing) return missing;
  if (!isWhole(to, from + 1, bars.length)) return refused('At least one bar is taken out.');
  if (to - from === bars.length) return refused('A song keeps at least one bar.');
  const [first, next] = [bars[from], bars[to]];
  if (!first) return refused('The song has no such bar.');
  const span = { from: first.at, to: next?.at ?? endOf(score) };
  const down = next ? next.number - (from === 0 ? Math.min(1, next.number) : first.number) : 0;
  const left = [
    ...bars.slice(0, from),
    ...bars.slice(to).map((bar): Bar => ({
      ...bar,
      number: bar.number - down,
      at: bar.at - (span.to - span.from),
    })),
  ];
  const [last, gone] = [left.at(-1), bars.at(-1)];
  if (!next && last && gone) left[left.length - 1] = { ...last, line: gone.line };
  return success({ ...removeTime(score, span), bars: left });
}

/** The first note that begins before a place, as it is said: `D4 in the pickup, beat 4`; null: nothing sounds there. */
function soundsIn(score: Score, to: Ticks): string | null {
  for (const { notes } of score.voices) {
    const note = notes.find(({ at, pitches }) => at < to && pitches.length > 0);
    if (note) return `${sayPitches(note.pitches)} in ${sayPlace(score, note.at)}`;
  }
  return null;
}

function pickup(score: Score, { length }: Of<'pickup'>): Result<Score> {
  const untimed = withoutTime(score);
  if (untimed) return untimed;
  const full = barLength(inForce(score.meters, 0).meter);
  if (full === null) return refused('Without a meter there is no pickup.');
  if (!isWhole(length, 0, full - 1)) return refused('A pickup is shorter than a bar.');
  const now = pickupOf(score);
  const more = length - now;
  if (more === 0) return success(score);
  const later = score.bars.map((bar): Bar => ({ ...bar, at: bar.at === 0 ? 0 : bar.at + more }));
  const [first, ...others] = later;
  if (!first) return refused('The song has no bars.');
  if (more < 0) {
    const lost = soundsIn(score, -more);
    if (lost !== null) {
      return refused(`${lost} would go with it. Make that a rest first, or leave the pickup so long.`); // prettier-ignore
    }
    const bars = length === 0 ? others : [{ ...first, length }, ...others];
    return success({ ...removeTime(score, { from: 0, to: -more }), bars });
  }
  const bars =
    now === 0
      ? [{ ...PLAIN_BAR, number: 0, at: 0, length }, { ...first, at: length }, ...others]
      : [{ ...first, length }, ...others];
  if (bars.length > SCORE_LIMITS.bars) {
    return refused(`A song has at most ${SCORE_LIMITS.bars} bars.`);
  }
  return success({ ...insertTime(score, 0, [more]), bars });
}

const isEnding = (ending: number): boolean => isWhole(ending, 1, SCORE_LIMITS.endings);

function repeat(score: Score, edit: Of<'repeat'>): Result<Score> {
  const missing = missingBar(score, edit.bar);
  if (missing) return missing;
  const bar = score.bars[edit.bar] as Bar;
  const endings = edit.endings && [...new Set(edit.endings)].sort((a, b) => a - b);
  if (endings && !endings.every(isEnding)) {
    return refused(`Endings of ${sayBar(score, bar)} are numbered from 1.`);
  }
  const changed: Bar = {
    ...bar,
    repeatStart: edit.start ?? bar.repeatStart,
    repeatEnd: edit.end ?? bar.repeatEnd,
    endings: endings ?? bar.endings,
  };
  return success({ ...score, bars: score.bars.with(edit.bar, changed) });
}

export const BARS = { 'insert bars': insert, 'remove bars': remove, pickup, repeat };
