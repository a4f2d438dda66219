import { Pitches, type PitchName } from '#music';
import { STEP } from './key-fit-staff.ts';

export interface StaffNote {
  readonly x: number;
  readonly y: number;
  /** `♯`, `♭`; empty: none. */
  readonly sign: string;
  /** Heights of its ledger lines. */
  readonly ledgers: readonly number[];
}

/** All lengths in CSS pixels. */
export interface NotesOnStaff {
  readonly width: number;
  readonly height: number;
  readonly lines: readonly number[];
  /** Where the G clef stands. */
  readonly clef: number;
  readonly notes: readonly StaffNote[];
}

const LOWEST_LINE = Pitches.requirePitch('E4').step;
const HIGHEST_LINE = Pitches.requirePitch('F5').step;
const G_LINE = Pitches.requirePitch('G4').step;
const FIRST = 56;
const APART = 34;
const ROOM = 30;
const SIGNS: Readonly<Record<number, string>> = { [-2]: '♭♭', [-1]: '♭', 0: '', 1: '♯', 2: '♯♯' };

/** Octaves up so that the middle of the notes stands on a treble staff: what men sing is written so too. */
function octavesUp(steps: readonly number[]): number {
  if (steps.length === 0) return 0;
  const middle = steps.toSorted((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0;
  return Math.round((Pitches.requirePitch('A4').step - middle) / 7);
}

/** Notes without lengths, one after the other on a treble staff; only whole octaves are moved. */
export function notesOnStaff(pitches: readonly PitchName[]): NotesOnStaff {
  const read = pitches.map((pitch) => Pitches.requirePitch(pitch));
  const up = 7 * octavesUp(read.map(({ step }) => step));
  const steps = read.map(({ step }) => step + up);
  const top = Math.max(HIGHEST_LINE, ...steps);
  const bottom = Math.min(LOWEST_LINE, ...steps);
  const y = (step: number): number => ROOM + (top - step) * STEP;
  const ledgersOf = (step: number): number[] => {
    const ledgers: number[] = [];
    for (let at = LOWEST_LINE - 2; at >= step; at -= 2) ledgers.push(y(at));
    for (let at = HIGHEST_LINE + 2; at <= step; at += 2) ledgers.push(y(at));
    return ledgers;
  };
  return {
    width: FIRST + Math.max(1, pitches.length) * APART,
    height: (top - bottom) * STEP + 2 * ROOM,
    lines: [0, 2, 4, 6, 8].map((line) => y(LOWEST_LINE + line)),
    clef: y(G_LINE),
    notes: steps.map((step, i) => ({
      x: FIRST + i * APART + 10,
      y: y(step),
      sign: SIGNS[read[i]?.alter ?? 0] ?? '',
      ledgers: ledgersOf(step),
    })),
  };
}
