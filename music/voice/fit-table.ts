import { keysToOffer, type Key } from '../pitch/key.ts';
import { pitchClassOf } from '../pitch/pitch.ts';
import type { Score } from '../score/score.ts';
import { interval as intervalTo } from '../score/transpose.ts';
import { endsRow } from './fit-ends.ts';
import { sungAt } from './fit-form.ts';
import { melodyRow } from './fit-melody-row.ts';
import type { EndsRow, FitRow, KeyFitOptions, KeyFitTable, VoiceRow } from './fit-row.ts';
import { placeAll, readingOf } from './fit-section.ts';
import { worstEnds, worstRow } from './fit-worst.ts';
import { boundsOf, count } from './placed.ts';
import type { OctaveChoice, Singer } from './range.ts';
import { sungSections } from './sung.ts';
import { of as tessituraOf } from './tessitura.ts';

/**
 * How the tune of a song lies in each voice in each key: what is measured is one verse's worth, weighted by time (see
 * `Tessitura.of`). Where no tune is written, what a person gave of its compass makes `ends`. Where
 * passes of the form are raised, `worst` has each voice where it has it worst. No network, no clock; the tablet and the server make the same table.
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
  const ends: EndsRow[] = [];
  const worst: VoiceRow[] = [];
  const isSung = (id: string): boolean => sections.some((section) => section.id === id);
  const groups = sungAt(score, options.form, sections.length > 0 ? isSung : () => true);
  for (const key of sections.length === 0 ? [] : keys) {
    const interval = intervalTo(written, key, options.direction);
    for (const { singer, bounds, readings } of singers) {
      const placed = placeAll(sections, readings, interval, bounds);
      const inVoice = { key, interval, singer, bounds, placed, readings, says: options.says };
      const row = melodyRow(inVoice);
      rows.push(row);
      if (groups.length > 0) worst.push(worstRow(row, inVoice, groups));
    }
  }
  const compass = (sections.length === 0 && score.compass) || null;
  for (const key of keys) {
    const interval = intervalTo(written, key, options.direction);
    for (const singer of voices) {
      if (!compass) continue;
      const asked = { key, interval, singer, compass, reading: wholeReading(singer, options) };
      const row = endsRow(asked);
      ends.push(row);
      if (groups.length > 0) worst.push(worstEnds(row, asked, groups));
    }
  }
  return {
    written,
    signature: first.signature,
    keys,
    voices,
    rows,
    ends,
    ...(groups.length > 0 ? { worst } : {}),
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
