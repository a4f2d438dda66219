import { plusOctaves, transposePitch, type Interval } from '../pitch/interval.ts';
import { sayNote, type Key } from '../pitch/key.ts';
import { requirePitch, type PitchName } from '../pitch/pitch.ts';
import type { Compass } from '../score/score.ts';
import type { EndsRow, KeyFitTable, Verdict, VoiceRow } from './fit-row.ts';
import { boundsOf, EDGE_STEP, rankOf, type Bounds } from './placed.ts';
import type { Octave, OctaveChoice, Range, Singer } from './range.ts';
import { sayDistance } from './say-beats.ts';

/** What stands behind every sentence: how sure it is. */
const HOW_KNOWN =
  'going by the lowest and highest note that were given; how long it lies there is not known';

/** What a row is made of. */
export interface EndsAsked {
  readonly key: Key;
  readonly interval: Interval;
  readonly singer: Singer;
  readonly compass: Compass;
  /** Missing or `free`: whichever octave lies better. */
  readonly reading: OctaveChoice | undefined;
}

/** A compass in a key and an octave, sounding. */
interface Moved extends Range {
  readonly octave: Octave;
  readonly mostly: Range | null;
}

/** How a tune of which only the compass is known lies in one voice in one key. */
export function endsRow({ key, interval, singer, compass, reading }: EndsAsked): EndsRow {
  const bounds = boundsOf(singer);
  const octaves: readonly Octave[] =
    reading === undefined || reading === 'free' ? ['as written', 'octave below'] : [reading];
  const [moved] = octaves
    .map((octave) => move(compass, interval, octave))
    .sort((a, b) => beyond(a, bounds) - beyond(b, bounds) || off(a, bounds) - off(b, bounds));
  if (!moved) throw new RangeError('a voice sings in some octave');
  const { low, high, octave, mostly } = moved;
  const [bottom, top] = [midi(low), midi(high)];
  const verdict = verdictOf(moved, bounds, singer);
  return {
    known: 'ends',
    key,
    interval,
    voice: singer.id,
    name: singer.name,
    octave,
    low,
    high,
    lowerReserve: bottom - bounds.low,
    upperReserve: bounds.high - top,
    shift: (bottom + top - bounds.low - bounds.high) / 2,
    mostly,
    verdict,
    reason: sayEnds(moved, bounds, singer, verdict),
  };
}

const midi = (name: PitchName): number => requirePitch(name).midi;

function move(compass: Compass, interval: Interval, octave: Octave): Moved {
  const by = plusOctaves(interval, octave === 'octave below' ? -1 : 0);
  const range = ({ low, high }: Range): Range => ({
    low: transposePitch(low, by),
    high: transposePitch(high, by),
  });
  return { ...range(compass), octave, mostly: compass.mostly && range(compass.mostly) };
}

/** Half steps outside the comfortable range, at both ends together. */
function beyond({ low, high }: Range, bounds: Bounds): number {
  return Math.max(0, bounds.low - midi(low)) + Math.max(0, midi(high) - bounds.high);
}

/** From the middle of the range to that of the tune, as far as it is known; below zero: the tune lies low. */
function middleOff({ low, high, mostly }: Omit<Moved, 'octave'>, bounds: Bounds): number {
  const known = mostly ?? { low, high };
  return (midi(known.low) + midi(known.high) - bounds.low - bounds.high) / 2;
}

const off = (moved: Moved, bounds: Bounds): number => Math.abs(middleOff(moved, bounds));

/** Within a half step of an end counts as its top or bottom, as for tunes that are written. */
const ROOM = 2;

/**
 * As for a written tune, as far as two notes can tell. `easy` needs two half steps of room at both ends, for then no time
 * at all is spent on the ends of the range. A step outside may be touched only briefly, so it is the edge; but where the
 * tune mostly lies outside, a quarter of its time does, and that is too much.
 */
function verdictOf(moved: Moved, bounds: Bounds, singer: Singer): Verdict {
  const { low, high, mostly } = moved;
  if (beyond(moved, bounds) > 0) {
    const limit = singer.limit
      ? { low: midi(singer.limit.low), high: midi(singer.limit.high) }
      : { low: bounds.low - EDGE_STEP, high: bounds.high + EDGE_STEP };
    const isReached = midi(low) >= limit.low && midi(high) <= limit.high;
    const isMostly = mostly !== null && beyond(mostly, bounds) > 0;
    return isReached && !isMostly ? 'edge' : 'outside';
  }
  const hasRoom = midi(low) - bounds.low >= ROOM && bounds.high - midi(high) >= ROOM;
  const isMiddle = 4 * off(moved, bounds) <= bounds.high - bounds.low;
  return hasRoom && isMiddle ? 'easy' : 'works';
}

function sayEnds(moved: Moved, bounds: Bounds, singer: Singer, verdict: Verdict): string {
  const who = singer.name + (moved.octave === 'octave below' ? ' an octave down' : '');
  const { low, high, mostly } = moved;
  const [over, under] = [midi(high) - bounds.high, bounds.low - midi(low)];
  const lies = mostly ? `, mostly from ${sayNote(mostly.low)} to ${sayNote(mostly.high)}` : '';
  if (verdict === 'easy' || verdict === 'works') {
    const word = verdict === 'easy' ? `Sits easily for ${who}` : `Works for ${who}`;
    const middle = middleOff(moved, bounds);
    const isFar = 4 * Math.abs(middle) > bounds.high - bounds.low;
    const way = isFar ? `, lying ${middle > 0 ? 'high' : 'low'}` : '';
    return `${word}${way}: the highest note, ${sayNote(high)}, has ${spare(-over)}, the lowest, ${sayNote(low)}, ${spare(-under)}${lies}; ${HOW_KNOWN}.`;
  }
  const sides = [
    over > 0 ? `the highest note, ${sayNote(high)}, lies ${sayDistance(over)} above ${sayNote(singer.comfortable.high)}, the highest that sits easily` : '', // prettier-ignore
    under > 0 ? `the lowest note, ${sayNote(low)}, lies ${sayDistance(under)} below ${sayNote(singer.comfortable.low)}, the lowest that sits easily` : '', // prettier-ignore
  ].filter((words) => words !== '');
  const too = sides.length === 2 ? 'Too wide' : over > 0 ? 'Too high' : 'Too low';
  const word = verdict === 'edge' ? 'At the edge' : too;
  return `${word} for ${who}: ${sides.join(', and ')}${lies}; ${HOW_KNOWN}.`;
}

const spare = (room: number): string => `${room === 0 ? 'no room' : sayDistance(room)} to spare`;

/** The rows of a table by whichever way they are known: of the written tune, or of its two ends. */
export function rowsOf(table: KeyFitTable): readonly VoiceRow[] {
  return table.rows.length > 0 ? table.rows : table.ends;
}

/** The same where some passes are raised: of each voice the passes in which it has it worst. */
export function worstOf(table: KeyFitTable): readonly VoiceRow[] {
  return table.worst ?? rowsOf(table);
}

/** Above zero: a voice has it worse in the first row than in the second. */
export function compareRows(a: VoiceRow, b: VoiceRow): number {
  return (
    rankOf(a.verdict) - rankOf(b.verdict) ||
    amountOutside(a) - amountOutside(b) ||
    Math.abs(offMiddle(a)) - Math.abs(offMiddle(b))
  );
}

/**
 * How much lies outside, to compare rows of one song with: the share of the time, or where that is not known, half steps
 * beyond the ends, in thousandths so that they too stay below 1.
 */
export function amountOutside(row: VoiceRow): number {
  if (row.known === 'melody') return row.shareOutside;
  return (Math.max(0, -row.lowerReserve) + Math.max(0, -row.upperReserve)) / 1000;
}

/** From the middle of the range to that of the tune in half steps: weighted by time, or going by what was given. */
export function offMiddle(row: VoiceRow): number {
  if (row.known === 'melody') return row.meanOffset;
  const bounds = { low: midi(row.low) - row.lowerReserve, high: midi(row.high) + row.upperReserve };
  return middleOff(row, bounds);
}

/** `12 % of the singing`, `a step`; empty where nothing lies outside. */
export function sayOutside(row: VoiceRow): string {
  if (row.known === 'melody') {
    if (row.shareOutside === 0) return '';
    return `${Math.max(1, Math.round(100 * row.shareOutside))} % of the singing`;
  }
  const furthest = Math.max(0, -row.lowerReserve, -row.upperReserve);
  return furthest === 0 ? '' : sayDistance(furthest);
}
