import { plusOctaves, transposePitch, type Interval } from '../pitch/interval.ts';
import type { PitchName } from '../pitch/pitch.ts';
import type { Fit, KeyFitOptions } from './fit-row.ts';
import {
  compareFigures,
  figuresOf,
  together,
  verdictOf,
  type Bounds,
  type Counted,
  type Figures,
  type Placed,
} from './placed.ts';
import type { Octave, OctaveChoice, Singer } from './range.ts';

/** undefined: one octave for all such sections together, whichever lies better. */
export function readingOf(
  singer: Singer,
  section: string,
  { octaves }: KeyFitOptions,
): OctaveChoice | undefined {
  const asked = octaves?.[singer.id];
  if (typeof asked === 'string') return asked;
  return asked?.[section] ?? singer.reads;
}

const OCTAVES: readonly Octave[] = ['as written', 'octave below'];

export function place(section: Counted, octave: Octave, interval: Interval): Placed {
  return { section, octave, by: interval.semitones - (octave === 'octave below' ? 12 : 0) };
}

/** The octave in which some sections together lie better. A tie goes to the octave as written. */
export function betterOctave(some: readonly Counted[], interval: Interval, bounds: Bounds): Octave {
  const [up, down] = OCTAVES.map((octave) =>
    together(some.map((section) => figuresOf(place(section, octave, interval), bounds))),
  );
  return up && down && compareFigures(down, up, bounds) < 0 ? 'octave below' : 'as written';
}

/** Each section in its octave. A tie goes to the octave as written. */
export function placeAll(
  sections: readonly Counted[],
  readings: readonly (OctaveChoice | undefined)[],
  interval: Interval,
  bounds: Bounds,
): Placed[] {
  const better = (some: readonly Counted[]): Octave => betterOctave(some, interval, bounds);
  const open = sections.filter((_, i) => readings[i] === undefined);
  const shared = open.length > 0 ? better(open) : 'as written';
  return sections.map((section, i) => {
    const reading = readings[i];
    const octave = reading === 'free' ? better([section]) : (reading ?? shared);
    return place(section, octave, interval);
  });
}

export function fitOf(
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
