import { Time, type Bar, type Score, type Ticks } from '#music';

/** `beat`: the felt beats. `half`: what they are counted in besides, and wherever a note begins. */
export type Fineness = 'beat' | 'half';

/** What a felt beat is divided in: three where it is dotted (6/8), else two. */
function divisions(score: Score, bar: Bar): number {
  const meter = Time.meterAt(score, bar.at);
  return Time.feltBeat(meter) === 3 * Time.unitTicks(meter.unit) ? 3 : 2;
}

/** The part of a felt beat that the finer steps go by, as one says it. */
export function divisionAt(score: Score, at: Ticks): 'half' | 'third' {
  return divisions(score, Time.barAt(score, at)) === 3 ? 'third' : 'half';
}

/** How much of its first beats a pickup, or the second half of a bar cut in two, has not. */
function missing(score: Score, { at }: Bar): Ticks {
  const unit = Time.unitTicks(Time.meterAt(score, at).unit);
  return Math.round((Time.placeOf(score, at).beat - 1) * unit);
}

/**
 * Where in a bar a chord can begin, in order: the felt beats, counted in a pickup as if it were full, and wherever a
 * chord stands already; finely also half a beat (a third of a dotted one) and wherever a note begins.
 * @param bar its index
 */
export function chordPlaces(score: Score, bar: number, fineness: Fineness = 'beat'): Ticks[] {
  const span = score.bars[bar];
  if (!span) return [];
  const end = span.at + span.length;
  const felt = Time.feltBeat(Time.meterAt(score, span.at));
  const step = fineness === 'beat' ? felt : felt / divisions(score, span);
  const places = new Set<Ticks>([span.at]);
  const first = span.at - (missing(score, span) % step);
  for (let at = first; at < end; at += step) if (at >= span.at) places.add(at);
  const begin = ({ at }: { readonly at: Ticks }): void => {
    if (at > span.at && at < end) places.add(at);
  };
  score.chords.forEach(begin);
  if (fineness === 'half') for (const { notes } of score.voices) notes.forEach(begin);
  return [...places].sort((a, b) => a - b);
}

/** The next place of a chord, or the one before; null: the song has none there. */
export function nextPlace(
  score: Score,
  at: Ticks,
  direction: -1 | 1,
  fineness: Fineness = 'beat',
): Ticks | null {
  let bar = score.bars.findIndex((each) => at < each.at + each.length);
  if (bar < 0) bar = direction < 0 ? score.bars.length - 1 : score.bars.length;
  for (; bar >= 0 && bar < score.bars.length; bar += direction) {
    const places = chordPlaces(score, bar, fineness);
    const found =
      direction > 0 ? places.find((each) => each > at) : places.findLast((each) => each < at);
    if (found !== undefined) return found;
  }
  return null;
}

/** Where a chord is put by pointing: its places in a bar, and wherever a note of the voice in hand begins. */
export function pointedPlaces(score: Score, bar: number, voice: string): Ticks[] {
  const span = score.bars[bar];
  const notes = score.voices.find(({ id }) => id === voice)?.notes ?? [];
  const begin = notes.flatMap(({ at }) =>
    span && at >= span.at && at < span.at + span.length ? [at] : [],
  );
  return [...new Set([...chordPlaces(score, bar), ...begin])];
}
