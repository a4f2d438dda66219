import type { PitchName } from '../../pitch/pitch.ts';
import type { Syllable, Ticks } from '../../score/score.ts';
import type { Accidentals } from './accidentals.ts';
import type { At, Report } from '../report.ts';

/** A note while its voice is being read: everything may still change. */
export interface ReadNote {
  at: Ticks;
  length: Ticks;
  /** The length as its head is drawn, before a tuplet shortens it. */
  drawn: Ticks;
  pitches: PitchName[];
  tie: boolean;
  slurStarts: number;
  slurEnds: number;
  fermata: boolean;
  tuplet: { actual: number; normal: number } | null;
  grace: PitchName[];
  hidden: boolean;
  beam: boolean;
  fingers: number[];
  signs: string[];
  syllables: (Syllable | null)[];
  line: number;
  column: number;
}

/** Notes of one voice; more is damage. */
export const MOST_NOTES = 60_000;

/** One stream of notes: the voice itself, or what `&` lays over a bar of it. */
export class Layer {
  readonly notes: ReadNote[] = [];
  time: Ticks = 0;
  accidentals: Accidentals;
  /** The member notes that a tuplet sign still reaches. */
  tuplet: { actual: number; normal: number; left: number; line: number; column: number } | null =
    null;
  /** A broken-rhythm sign that waits for its second note. */
  broken: { sign: '>' | '<'; count: number; line: number; column: number } | null = null;
  /** Notes whose slurs are still open. */
  readonly slurs: ReadNote[] = [];
  /** How many bar lines of the voice this layer has been filled up to. */
  filled = 0;
  /** No space and no bar line since the last note. */
  joined = false;

  constructor(accidentals: Accidentals) {
    this.accidentals = accidentals;
  }

  get last(): ReadNote | null {
    return this.notes.at(-1) ?? null;
  }

  add(note: ReadNote): void {
    this.notes.push(note);
    this.time = note.at + note.length;
  }

  /** Rests nobody sees up to a moment, bar for bar, so that none crosses a bar line. */
  fillBars(bars: readonly { readonly at: Ticks }[], to: Ticks, line: number, column: number): void {
    for (; this.filled < bars.length; this.filled += 1) {
      this.fill(Math.min(to, bars[this.filled]?.at ?? to), line, column);
    }
    this.fill(to, line, column);
  }

  /** A rest nobody sees, up to a moment. */
  fill(to: Ticks, line: number, column: number): void {
    if (to > this.time)
      this.add({ ...emptyNote(this.time, line, column), length: to - this.time, hidden: true });
  }
}

export function emptyNote(at: Ticks, line: number, column: number): ReadNote {
  return {
    at,
    length: 0,
    drawn: 0,
    pitches: [],
    tie: false,
    slurStarts: 0,
    slurEnds: 0,
    fermata: false,
    tuplet: null,
    grace: [],
    hidden: false,
    beam: false,
    fingers: [],
    signs: [],
    syllables: [],
    line,
    column,
  };
}

/** Ends what lies over a bar where the bar ends. */
export function endOverlay(layer: Layer, end: Ticks, at: Required<At>, report: Report): void {
  if (layer.time > end) {
    const words = 'What lies over this bar is longer than the bar itself.';
    report.problem('overlay-too-long', words, at);
  } else if (layer.time < end) {
    const words = 'What lies over this bar is shorter than the bar; it ends in a rest.';
    report.warn('overlay-too-short', words, at);
    layer.fill(end, at.line, at.column);
  }
}
