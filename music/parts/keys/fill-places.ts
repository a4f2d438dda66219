import { passesOf } from '../../score/form.ts';
import { phraseEnds } from '../../score/phrase-ends.ts';
import type { Bar, Score, Ticks } from '../../score/score.ts';
import { barAt, feltBeat, meterAt, unitTicks, type SoundingNote } from '../../score/time.ts';
import { tuneOf } from './right-tune.ts';

/** A phrase of the words ends with a bar where half of the verses end one there, or more (ours). */
const ENDS = 0.5;
/** Felt beats that the tune waits where there is room for a fill (ours). */
const ROOM = 1.5;
/** Without such words, a note that waits so many times as long as half of the tune's notes ends a phrase (ours). */
const LONG = 2;

/** Time for a fill: the tune waits, and goes on in `to` or later. */
export interface FillPlace {
  readonly from: Ticks;
  readonly to: Ticks;
  /** Notes that fit in, each of the same length. */
  readonly count: number;
  /** The last note that is sung before it, which may last into it. */
  readonly sung: SoundingNote;
}

/** A phrase's last note, with the moment in which the tune goes on. */
export interface PhraseEnd {
  readonly sung: SoundingNote;
  readonly next: Ticks;
}

/**
 * The last notes of phrases after which the tune waits one and a half felt beats or more, rests counted in: by the words,
 * where they end one in a bar and no more than a felt beat of it is left when the next begins; where no words say so anywhere
 * inside a section, by the tune, where it waits twice as long as half of its notes last.
 * @param ends how strongly a phrase of the words ends with each bar, 0–1
 */
export function phraseEndsOf(score: Score, ends = phraseEnds(score)): PhraseEnd[] {
  const tune = tuneOf(score);
  const lengths = tune.map(({ length }) => length).sort((a, b) => a - b);
  const isByWords = score.bars.some(
    (bar, i) =>
      (ends[i] ?? 0) >= ENDS &&
      !bar.repeatEnd &&
      score.sections.every(({ to }) => to <= bar.at || to > endOf(bar)),
  );
  const usual = lengths[Math.floor(lengths.length / 2)] ?? 0;
  return tune.flatMap((sung, i): PhraseEnd[] => {
    const next = tune[i + 1]?.at;
    if (next === undefined) return [];
    const beat = feltBeat(meterAt(score, sung.at));
    const bar = barAt(score, sung.at);
    const waits = next - sung.at;
    const isSaid = (ends[score.bars.indexOf(bar)] ?? 0) >= ENDS && next >= endOf(bar) - beat;
    const isLong = waits >= LONG * usual;
    return waits >= ROOM * beat && (isByWords ? isSaid : isLong) ? [{ sung, next }] : [];
  });
}

/**
 * The last felt beat before a moment; its last part or two where the tune has waited less than two beats by then. null: there
 * is no room, or the tune does not wait so long.
 */
export function placeBefore(score: Score, { sung, next }: PhraseEnd, to: Ticks): FillPlace | null {
  const meter = meterAt(score, to - 1);
  const beat = feltBeat(meter);
  const parts = beat === unitTicks(meter.unit) ? 2 : 3;
  const waits = to - sung.at;
  if (to > next || waits < ROOM * beat || endOf(barAt(score, to - beat)) < to) return null;
  const count = waits >= 2 * beat ? parts : parts - 1;
  return { from: to - (count * beat) / parts, to, count, sung };
}

/** A place with fewer notes, as near to its end. */
export const shorter = (place: FillPlace, count: number): FillPlace => ({
  ...place,
  count,
  from: place.to - ((place.to - place.from) * count) / place.count,
});

const endOf = ({ at, length }: Bar): Ticks => at + length;

/**
 * Whether what follows on the page at a moment need not be what is played next: a repeat begins or ends there, or a section
 * after which something else may come.
 */
export function isCut(score: Score, at: Ticks): boolean {
  const { sections, bars } = score;
  const before = sections.find(({ to }) => to === at);
  const after = sections.find(({ from }) => from === at);
  const isRepeat = bars.some(
    (bar) =>
      (endOf(bar) === at && bar.repeatEnd) ||
      (bar.at === at && (bar.repeatStart || bar.endings.length > 0)),
  );
  if (isRepeat || (!before && !after)) return isRepeat;
  const passes = passesOf(score);
  return !passes.every(
    ({ section }, i) => section !== before || (after && passes[i + 1]?.section === after),
  );
}
