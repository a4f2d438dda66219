import type { Interval } from '../pitch/interval.ts';
import { keysToOffer, type Key } from '../pitch/key.ts';
import { pitchClassOf } from '../pitch/pitch.ts';
import type { Score } from '../score/score.ts';
import { interval as intervalTo } from '../score/transpose.ts';
import { endsRow } from './fit-ends.ts';
import type { FitRow, KeyFitOptions, KeyFitTable, SectionFit } from './fit-row.ts';
import { fitOf, placeAll, readingOf } from './fit-section.ts';
import { sayReason } from './fit-words.ts';
import {
  boundsOf,
  count,
  figuresOf,
  together,
  type Bounds,
  type Counted,
  type Figures,
} from './placed.ts';
import type { OctaveChoice, Singer } from './range.ts';
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

/** The octave that is asked for the song as a whole; one by sections says nothing of a tune that is not written. */
function wholeReading(singer: Singer, { octaves }: KeyFitOptions): OctaveChoice | undefined {
  const asked = octaves?.[singer.id];
  return typeof asked === 'string' ? asked : singer.reads;
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
    octave: octaves.size === 1 ? (placed[0]?.octave ?? 'as written') : 'free',
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
