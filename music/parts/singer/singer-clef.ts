import { midiOf, requirePitch, type PitchName } from '../../pitch/pitch.ts';
import type { Note, Voice } from '../../score/score.ts';
import type { Range } from '../../voice/range.ts';

/** Lowest and highest line of the staff in each clef that singers read, in the order in which they are tried. */
const STAVES = [
  { clef: 'treble', bottom: 'E4', top: 'F5' },
  { clef: 'treble-8', bottom: 'E3', top: 'F4' },
  { clef: 'bass', bottom: 'G2', top: 'A3' },
] as const satisfies readonly {
  readonly clef: Voice['clef'];
  readonly bottom: PitchName;
  readonly top: PitchName;
}[];

/** Ledger lines that a pitch needs on a staff. */
function ledgerLines(pitch: PitchName, { bottom, top }: (typeof STAVES)[number]): number {
  const [step, low, high] = [pitch, bottom, top].map((each) => requirePitch(each).step);
  const beyond = Math.max((low ?? 0) - (step ?? 0), (step ?? 0) - (high ?? 0), 0);
  return Math.floor(beyond / 2);
}

/** Altos read treble down to here, two ledger lines below the staff (common practice of hymnals). */
const LOWEST_IN_TREBLE: PitchName = 'G3';
/** Who sings lower than this easily is a man's voice, and reads as one (common practice: altos reach E3 or F3). */
const LOWEST_OF_ALTOS: PitchName = 'E3';

/**
 * The clef in which somebody reads a line: treble for voices from alto up where it goes no lower than altos read there; else the one in which it
 * needs the fewest ledger lines, weighted by time: treble, treble with an 8 below (as tenors read) or bass, of equals the one
 * in which the ends of their range need fewer, then the first.
 */
export function clefFor(
  notes: readonly Pick<Note, 'pitches' | 'length'>[],
  range: Range,
): Voice['clef'] {
  const lowest = midiOf(LOWEST_IN_TREBLE);
  const isHigh =
    midiOf(range.low) >= midiOf(LOWEST_OF_ALTOS) &&
    notes.every(({ pitches }) => pitches.every((each) => midiOf(each) >= lowest));
  if (isHigh) return 'treble';
  const needs = STAVES.map((staff) => ({
    clef: staff.clef,
    lines: notes.reduce(
      (sum, { pitches, length }) =>
        sum + length * pitches.reduce((most, each) => Math.max(most, ledgerLines(each, staff)), 0),
      0,
    ),
    ends: ledgerLines(range.low, staff) + ledgerLines(range.high, staff),
  }));
  return needs.reduce((best, each) =>
    (each.lines - best.lines || each.ends - best.ends) < 0 ? each : best,
  ).clef;
}
