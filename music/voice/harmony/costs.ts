import { FAR, HARMONY_PRICES as P, type HarmonyCostKind } from './prices.ts';

/** A note of the tune as the line sees it, all in half steps, C4 = 60, as it sounds. */
export interface TuneNote {
  readonly midi: number;
  /** It begins on a felt beat or lasts one. */
  readonly isStrong: boolean;
  /** The keys of the octave that its chords have, one set for each chord that sounds while it lasts; none: no chord. */
  readonly chords: readonly ReadonlySet<number>[];
  /** A rest lies before it, or a section begins. */
  readonly isAfterRest: boolean;
}

export interface HarmonyItem {
  readonly kind: HarmonyCostKind;
  readonly points: number;
}

export type Side = 'below' | 'above';

const mod12 = (midi: number): number => ((midi % 12) + 12) % 12;

/** What a note costs by itself under (or over) a note of the tune. */
export function ownCosts(
  midi: number,
  tune: TuneNote,
  side: Side,
  comfortable: { readonly low: number; readonly high: number },
): HarmonyItem[] {
  const items: HarmonyItem[] = [];
  const add = (kind: HarmonyCostKind, times = 1) => {
    if (times > 0) items.push({ kind, points: P[kind] * times });
  };
  const foreign = tune.chords.some((chord) => !chord.has(mod12(midi)));
  if (foreign) add(tune.isStrong ? 'foreign' : 'passing');
  const apart = Math.abs(midi - tune.midi);
  switch (apart % 12) {
    case 0:
      add(apart === 0 ? 'unison' : 'octave');
      break;
    case 1:
    case 11:
      add('halfStep');
      break;
    case 2:
    case 10:
      add(tune.isStrong ? 'second' : 'passingSecond');
      break;
    case 5:
      add('fourth');
      break;
    case 6:
      add('tritone');
      break;
    case 7:
      add('fifth');
  }
  if (side === 'below' ? midi > tune.midi : midi < tune.midi) add('crossing');
  add('far', apart - FAR);
  add('outside', Math.max(comfortable.low - midi, midi - comfortable.high));
  return items;
}

/** What it costs to go on from one note to the next, while the tune goes its own way. */
export function wayCosts(
  from: number,
  to: number,
  before: TuneNote,
  tune: TuneNote,
): HarmonyItem[] {
  if (tune.isAfterRest) return [];
  const items: HarmonyItem[] = [];
  const add = (kind: HarmonyCostKind) => items.push({ kind, points: P[kind] });
  const leap = Math.abs(to - from);
  if (leap === 0 && before.midi !== tune.midi) add('staying');
  else if (leap === 3 || leap === 4) add('third');
  else if (leap === 5) add('leapOfFourth');
  else if (leap === 6) add('leapOfTritone');
  else if (leap === 7) add('leapOfFifth');
  else if (leap > 7) add('leapBeyond');
  const [own, other] = [Math.sign(to - from), Math.sign(tune.midi - before.midi)];
  if (own !== 0 && own === other) {
    const [was, is] = [mod12(Math.abs(from - before.midi)), mod12(Math.abs(to - tune.midi))];
    if (is === 0 || is === 7) {
      if (was === is) add('parallel');
      else if (leap > 2 && Math.abs(tune.midi - before.midi) > 2) add('hidden');
    }
  }
  return items;
}

export const pointsOf = (items: readonly HarmonyItem[]): number =>
  items.reduce((sum, { points }) => sum + points, 0);
