import { FAR, HARMONY_PRICES as P, type HarmonyCostKind } from './prices.ts';

/** A note of the tune as the line sees it, all in half steps, C4 = 60, as it sounds. */
export interface TuneNote {
  readonly midi: number;
  /** It begins on a felt beat or lasts one. */
  readonly isStrong: boolean;
  /** The keys of the octave that its chords have, one set for each chord that sounds while it lasts; none: no chord. */
  readonly chords: readonly ReadonlySet<number>[];
  /** It begins, or a rest lies before it. */
  readonly isAfterRest: boolean;
  /** What others sing beside the tune where it begins, voice by voice; null: nothing. */
  readonly others: readonly (number | null)[];
}

export interface HarmonyItem {
  readonly kind: HarmonyCostKind;
  readonly points: number;
}

export type Side = 'below' | 'above';

/** Half steps within the octave that rub: seconds and sevenths. */
const RUBS: readonly number[] = [1, 2, 10, 11];

const mod12 = (midi: number): number => ((midi % 12) + 12) % 12;

/** Takes each thing that is paid for, so often. */
export type Pay = (kind: HarmonyCostKind, times: number) => void;

/** What a note pays by itself under (or over) a note of the tune. */
export function payOwn(
  pay: Pay,
  midi: number,
  tune: TuneNote,
  side: Side,
  comfortable: { readonly low: number; readonly high: number },
): void {
  const foreign = tune.chords.some((chord) => !chord.has(mod12(midi)));
  if (foreign) pay(tune.isStrong ? 'foreign' : 'passing', 1);
  const apart = Math.abs(midi - tune.midi);
  const kind = withTune(apart, tune.isStrong);
  if (kind) pay(kind, 1);
  if (side === 'below' ? midi > tune.midi : midi < tune.midi) pay('crossing', 1);
  if (apart > FAR) pay('far', apart - FAR);
  const outside = Math.max(comfortable.low - midi, midi - comfortable.high);
  if (outside > 0) pay('outside', outside);
  for (const other of tune.others) {
    if (other === null) continue;
    if (other === midi) pay('doubled', 1);
    else if (RUBS.includes(Math.abs(midi - other) % 12) && tune.isStrong) pay('clash', 1);
  }
}

/** What two notes so many half steps apart are paid as; null: a third or sixth, which are free. */
function withTune(apart: number, isStrong: boolean): HarmonyCostKind | null {
  switch (apart % 12) {
    case 0:
      return apart === 0 ? 'unison' : 'octave';
    case 1:
    case 11:
      return 'halfStep';
    case 2:
    case 10:
      return isStrong ? 'second' : 'passingSecond';
    case 5:
      return 'fourth';
    case 6:
      return 'tritone';
    case 7:
      return 'fifth';
    default:
      return null;
  }
}

/** What it pays to go on from one note to the next, while the tune goes its own way. */
export function payWay(pay: Pay, from: number, to: number, before: TuneNote, tune: TuneNote): void {
  if (tune.isAfterRest) return;
  const leap = Math.abs(to - from);
  if (leap === 0 && before.midi !== tune.midi) pay('staying', 1);
  else if (leap === 3 || leap === 4) pay('third', 1);
  else if (leap === 5) pay('leapOfFourth', 1);
  else if (leap === 6) pay('leapOfTritone', 1);
  else if (leap === 7) pay('leapOfFifth', 1);
  else if (leap > 7) pay('leapBeyond', 1);
  const own = Math.sign(to - from);
  if (own === 0) return;
  if (own === Math.sign(tune.midi - before.midi)) {
    const is = mod12(Math.abs(to - tune.midi));
    // From unison to unison both sing the tune, which `unison` pays for.
    const isTogether = from === before.midi && to === tune.midi;
    if (!isTogether && (is === 0 || is === 7)) {
      if (mod12(Math.abs(from - before.midi)) === is) pay('parallel', 1);
      else if (leap > 2 && Math.abs(tune.midi - before.midi) > 2) pay('hidden', 1);
    }
  }
  for (let i = 0; i < tune.others.length; i++) {
    const [was, other] = [before.others[i] ?? null, tune.others[i] ?? null];
    if (was === null || other === null || Math.sign(other - was) !== own) continue;
    const is = mod12(Math.abs(to - other));
    if ((is === 0 || is === 7) && mod12(Math.abs(from - was)) === is) pay('parallelBeside', 1);
  }
}

/** Everything that is paid, itemised. */
export function itemsOf(paid: (pay: Pay) => void): HarmonyItem[] {
  const items: HarmonyItem[] = [];
  paid((kind, times) => items.push({ kind, points: P[kind] * times }));
  return items;
}

/** The same in points alone, for the search. */
export function sumOf(paid: (pay: Pay) => void): number {
  let sum = 0;
  paid((kind, times) => (sum += P[kind] * times));
  return sum;
}

export const pointsOf = (items: readonly HarmonyItem[]): number =>
  items.reduce((sum, { points }) => sum + points, 0);
