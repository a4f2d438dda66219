import type { Interval } from '../pitch/interval.ts';
import type { Key } from '../pitch/key.ts';
import { ENGLISH, type Says } from '../pitch/says.ts';
import type { FitRow, SectionFit } from './fit-row.ts';
import { fitOf } from './fit-section.ts';
import { sayReason } from './fit-words.ts';
import { figuresOf, together, type Bounds, type Figures, type Placed } from './placed.ts';
import type { OctaveChoice, Singer } from './range.ts';

/** One voice in one key, with the sections that are sung, each in its octave. */
export interface InVoice {
  readonly key: Key;
  /** From the written key. */
  readonly interval: Interval;
  readonly singer: Singer;
  readonly bounds: Bounds;
  /** Section by section, in the order of the score. */
  readonly placed: readonly Placed[];
  /** What is asked of each of them. */
  readonly readings: readonly (OctaveChoice | undefined)[];
  readonly says?: Says | undefined;
}

/** How some sections of a written tune lie, at least one. */
export function melodyRow(voice: InVoice): FitRow {
  const { key, interval, singer, bounds, placed, says = ENGLISH } = voice;
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
    reason: sayReason({ singer, interval, placed, bounds, figures, verdict: fit.verdict, says }),
  };
}
