import { Keys, Pitches, Ranges, type PitchName, type Range } from '#music';

/** Someone of the team with a range. Pitches as they sound. */
export interface LadderSinger {
  readonly id: string;
  readonly name: string;
  readonly comfortable: Range;
  /** The furthest notes; null: not known. */
  readonly limit: Range | null;
}

/** One singer's bar. All lengths are CSS pixels; y grows downwards. */
export interface LadderBar {
  readonly id: string;
  readonly name: string;
  /** Middle of the column. */
  readonly x: number;
  readonly top: number;
  readonly bottom: number;
  /** The furthest notes; null: not known, or no further. */
  readonly far: { readonly top: number; readonly bottom: number } | null;
  /** `A3`, `D5`. */
  readonly low: string;
  readonly high: string;
  /** Spoken: all of it in a sentence. */
  readonly label: string;
}

export interface DrawnLadder {
  readonly width: number;
  /** Of one singer. */
  readonly column: number;
  readonly height: number;
  /** The lines of both staves. */
  readonly lines: readonly number[];
  /** Ledger lines, each so far from the middle of a column. */
  readonly ledgers: readonly { readonly x: number; readonly y: number }[];
  readonly gClef: number;
  readonly fClef: number;
  readonly bars: readonly LadderBar[];
}

/** Half a staff space. */
export const STEP = 6;
/** Width of one singer's column at least: a finger (WCAG 2.2: 44 px), and room for a name; and at most, so that bars are compared. */
export const COLUMN = 76;
const WIDEST = 112;
/** Room beside the last column. */
const BESIDE = 8;
/** Room for the clefs. */
export const CLEFS = 44;
/** Room above the highest and below the lowest note for its name. */
const ROOM = 26;

/** F clef of the font Leipzig (glyph U+E062, SIL OFL 1.1): 1000 units are the height of a staff. */
export const F_CLEF =
  'M582 -120c0 32 26 58 58 58s58 -26 58 -58s-26 -58 -58 -58s-58 26 -58 58zM582 120c0 32 26 58 58 58s58 -26 58 -58s-26 -58 -58 -58s-58 26 -58 58zM158 96c51 0 73 -14 88 -49l16 -39c0 -17 -2 -30 -7 -40c-3 -11 -10 -21 -19 -31c-17 -18 -49 -43 -84 -43 c-55 0 -77 13 -112 44c-24 21 -35 55 -35 100c0 46 14 81 32 112c30 52 71 79 137 93l36 6l26 2c154 0 235 -68 274 -182c11 -32 18 -68 18 -107c0 -103 -26 -182 -68 -250c-89 -145 -234 -230 -412 -288l-30 -5c-9 0 -14 3 -14 8c3 10 5 11 10 16c35 15 70 30 96 44l78 43 c96 57 162 136 197 258c9 33 17 60 22 100c3 22 5 35 6 39c-7 69 -16 115 -23 140s-4 22 -16 40c-8 12 -19 23 -31 34c-24 21 -62 44 -118 44c-48 0 -84 -8 -113 -28c-28 -19 -42 -44 -42 -73v-16c2 -5 3 -9 4 -11c24 22 52 39 84 39z';

const step = (name: PitchName): number => Pitches.requirePitch(name).step;
const TREBLE = { low: step('E4'), high: step('F5') };
const BASS = { low: step('G2'), high: step('A3') };
const MIDDLE_C = step('C4');

const say = ({ low, high }: Range): string => `${Keys.sayNote(low)} to ${Keys.sayNote(high)}`;
const same = (one: PitchName, other: PitchName): boolean =>
  Pitches.midiOf(one) === Pitches.midiOf(other);

/** Low voices first, by the middle of what sits easily; of two the lower low note, then the name. */
export function ordered(singers: readonly LadderSinger[]): LadderSinger[] {
  return singers.toSorted(
    (a, b) =>
      Ranges.middle(a.comfortable) - Ranges.middle(b.comfortable) ||
      Pitches.midiOf(a.comfortable.low) - Pitches.midiOf(b.comfortable.low) ||
      a.name.localeCompare(b.name),
  );
}

/** The ledger lines that places from one to another need outside and between the two staves, as staff places. */
function ledgersBetween(low: number, high: number): number[] {
  const found: number[] = [];
  for (let at = BASS.low - 2; at >= low; at -= 2) found.push(at);
  if (low <= MIDDLE_C && high >= MIDDLE_C) found.push(MIDDLE_C);
  for (let at = TREBLE.high + 2; at <= high; at += 2) found.push(at);
  return found;
}

/**
 * Everybody's range as a bar on one great staff, sounding pitch, low voices first.
 * @param room CSS px the columns may spread over; 0: they stand as close as they can
 */
export function drawLadder(singers: readonly LadderSinger[], room = 0): DrawnLadder {
  const all = ordered(singers);
  const share = Math.floor((room - CLEFS - BESIDE) / Math.max(1, all.length));
  const column = Math.min(WIDEST, Math.max(COLUMN, share));
  const steps = all.flatMap(({ comfortable, limit }) =>
    [comfortable, limit ?? comfortable].flatMap(({ low, high }) => [step(low), step(high)]),
  );
  const top = Math.max(TREBLE.high, ...steps);
  const bottom = Math.min(BASS.low, ...steps);
  const y = (place: number): number => ROOM + (top - place) * STEP;
  const bars = all.map(({ id, name, comfortable, limit }, i): LadderBar => {
    const isFurther =
      limit && !(same(limit.low, comfortable.low) && same(limit.high, comfortable.high));
    const far = isFurther ? `; the furthest notes ${say(limit)}` : '';
    return {
      id,
      name,
      x: CLEFS + (i + 0.5) * column,
      top: y(step(comfortable.high)),
      bottom: y(step(comfortable.low)),
      far: isFurther ? { top: y(step(limit.high)), bottom: y(step(limit.low)) } : null,
      low: Keys.sayNote(comfortable.low),
      high: Keys.sayNote(comfortable.high),
      label: `The range of ${name}: ${say(comfortable)} sits easily${far}`,
    };
  });
  const staves = [TREBLE.low, BASS.low].flatMap((low) => [0, 2, 4, 6, 8].map((up) => y(low + up)));
  return {
    width: CLEFS + all.length * column + BESIDE,
    column,
    height: ROOM * 2 + (top - bottom) * STEP,
    lines: staves,
    ledgers: all.flatMap(({ comfortable, limit }, i) => {
      const { low, high } = limit ?? comfortable;
      const x = CLEFS + (i + 0.5) * column;
      return ledgersBetween(step(low), step(high)).map((place) => ({ x, y: y(place) }));
    }),
    gClef: y(step('G4')),
    fClef: y(step('F3')),
    bars,
  };
}

/** Where an arrow, Home or End leads among the bars; null: nowhere. */
export function barAfter(pressed: string, from: number, count: number): number | null {
  const to: Record<string, number> = {
    ArrowRight: from + 1,
    ArrowLeft: from - 1,
    Home: 0,
    End: count - 1,
  };
  const next = to[pressed];
  return next === undefined ? null : Math.min(count - 1, Math.max(0, next));
}
