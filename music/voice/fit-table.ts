import { plusOctaves, transposePitch, type Interval } from '../pitch/interval.ts';
import { keysToOffer, type Key } from '../pitch/key.ts';
import { pitchClassOf, type PitchName } from '../pitch/pitch.ts';
import type { Score } from '../score/score.ts';
import { interval as intervalTo } from '../score/transpose.ts';
import { endsRow } from './fit-ends.ts';
import type { Fit, FitRow, KeyFitOptions, KeyFitTable, SectionFit } from './fit-row.ts';
import { sayReason } from './fit-words.ts';
import {
  boundsOf,
  compareFigures,
  count,
  figuresOf,
  together,
  verdictOf,
  type Bounds,
  type Counted,
  type Figures,
  type Placed,
} from './placed.ts';
import type { Octave, OctaveChoice, Singer } from './range.ts';
import { sungSections } from './sung.ts';
import { of as tessituraOf } from './tessitura.ts';

/**
 * How the tune of a song lies in each voice in each key: what is measured is one verse's worth, weighted by time (see
 * `Tessitura.of`). Where no tune is written, what a person gave of its compass makes `ends`. No network, no clock; the tablet and the server make the same table.
 */
export function table(
  score: Score,
  voices: readonly Singer[],
  options: KeyFitOptions = {},
): KeyFitTable {
  const first = score.keys[0];
  if (!first) throw new RangeError('a score has a key at its start');
  const written = first.key;
  const keys = options.keys ?? keysAround(written);
  const sections = sungSections(score, options.voice).map(count);
  const singers = voices.map((singer) => ({
    singer,
    bounds: boundsOf(singer),
    readings: sections.map(({ id }) => readingOf(singer, id, options)),
  }));
  const rows: FitRow[] = [];
  for (const key of sections.length === 0 ? [] : keys) {
    const interval = intervalTo(written, key, options.direction);
    for (const { singer, bounds, readings } of singers) {
      rows.push(rowOf(key, interval, singer, bounds, sections, readings));
    }
  }
  const compass = (sections.length === 0 && score.compass) || null;
  return {
    written,
    signature: first.signature,
    keys,
    voices,
    rows,
    ends: compass
      ? keys.flatMap((key) => {
          const interval = intervalTo(written, key, options.direction);
          return voices.map((singer) =>
            endsRow({ key, interval, singer, compass, reading: wholeReading(singer, options) }),
          );
        })
      : [],
    compass,
    tessitura: tessituraOf(score, options.voice === undefined ? {} : { voice: options.voice }),
  };
}

/** The twelve usual keys of the mode; the written one keeps its own spelling. */
function keysAround(written: Key): Key[] {
  const sound = pitchClassOf(written.tonic);
  return keysToOffer(written.mode).map((key) =>
    pitchClassOf(key.tonic) === sound ? written : key,
  );
}

/** undefined: one octave for all such sections together, whichever lies better. */
function readingOf(
  singer: Singer,
  section: string,
  { octaves }: KeyFitOptions,
): OctaveChoice | undefined {
  const asked = octaves?.[singer.id];
  if (typeof asked === 'string') return asked;
  return asked?.[section] ?? singer.reads;
}

/** The octave that is asked for the song as a whole; one by sections says nothing of a tune that is not written. */
function wholeReading(singer: Singer, { octaves }: KeyFitOptions): OctaveChoice | undefined {
  const asked = octaves?.[singer.id];
  return typeof asked === 'string' ? asked : singer.reads;
}

const OCTAVES: readonly Octave[] = ['as written', 'octave below'];

function place(section: Counted, octave: Octave, interval: Interval): Placed {
  return { section, octave, by: interval.semitones - (octave === 'octave below' ? 12 : 0) };
}

/** Each section in its octave. A tie goes to the octave as written. */
function placeAll(
  sections: readonly Counted[],
  readings: readonly (OctaveChoice | undefined)[],
  interval: Interval,
  bounds: Bounds,
): Placed[] {
  const better = (some: readonly Counted[]): Octave => {
    const [up, down] = OCTAVES.map((octave) =>
      together(some.map((section) => figuresOf(place(section, octave, interval), bounds))),
    );
    return up && down && compareFigures(down, up, bounds) < 0 ? 'octave below' : 'as written';
  };
  const open = sections.filter((_, i) => readings[i] === undefined);
  const shared = open.length > 0 ? better(open) : 'as written';
  return sections.map((section, i) => {
    const reading = readings[i];
    const octave = reading === 'free' ? better([section]) : (reading ?? shared);
    return place(section, octave, interval);
  });
}

function rowOf(
  key: Key,
  interval: Interval,
  singer: Singer,
  bounds: Bounds,
  sections: readonly Counted[],
  readings: readonly (OctaveChoice | undefined)[],
): FitRow {
  const placed = placeAll(sections, readings, interval, bounds);
  const each = placed.map((one) => figuresOf(one, bounds));
  const figures = together(each);
  const octaves = new Set(placed.map(({ octave }) => octave));
  const fit = fitOf(figures, placed, interval, bounds, singer);
  return {
    known: 'melody',
    key,
    interval,
    voice: singer.id,
    name: singer.name,
    octave: octaves.size === 1 ? (placed[0] as Placed).octave : 'free',
    ...fit,
    perSection: placed.map((one, i): SectionFit => ({
      section: one.section.id,
      name: one.section.name,
      octave: one.octave,
      ...fitOf(each[i] as Figures, [one], interval, bounds, singer),
    })),
    reason: sayReason({ singer, interval, placed, bounds, figures, verdict: fit.verdict }),
  };
}

function fitOf(
  figures: Figures,
  placed: readonly Placed[],
  interval: Interval,
  bounds: Bounds,
  singer: Singer,
): Fit {
  const { low, high, total, weighted, above, below, atTop, atBottom } = figures;
  return {
    low: spelled(low, placed, interval),
    high: spelled(high, placed, interval),
    lowerReserve: low - bounds.low,
    upperReserve: bounds.high - high,
    shift: (low + high - bounds.low - bounds.high) / 2,
    shareOutside: (above + below) / total,
    shareAbove: above / total,
    shareBelow: below / total,
    shareAtTop: atTop / total,
    shareAtBottom: atBottom / total,
    mean: weighted / total,
    meanOffset: weighted / total - (bounds.low + bounds.high) / 2,
    verdict: verdictOf(figures, bounds, singer),
  };
}

/** The sounding pitch as the new key spells it. */
function spelled(midi: number, placed: readonly Placed[], interval: Interval): PitchName {
  for (const { section, octave, by } of placed) {
    const stay = section.stays.find((each) => each.midi + by === midi);
    if (stay) {
      return transposePitch(stay.pitch, plusOctaves(interval, octave === 'octave below' ? -1 : 0));
    }
  }
  throw new RangeError(`no note sounds at ${midi}`);
}
