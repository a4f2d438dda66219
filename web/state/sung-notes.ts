/** One look at the sound. */
export interface PitchFrame {
  readonly seconds: number;
  /** Fractions of a semitone too, C4 = 60; null: silence, a consonant, noise. */
  readonly midi: number | null;
}

export interface SungNote {
  /** Whole semitones, C4 = 60. */
  readonly midi: number;
  readonly seconds: number;
}

/** A4 = 440 Hz is 69. */
export function midiOfHz(hz: number): number {
  return 69 + 12 * Math.log2(hz / 440);
}

export function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}

/**
 * All in seconds and semitones; our own choices, tried on synthetic voices: vibrato of singers swings about half a
 * semitone to each side, five to seven times a second (Seashore 1932), so a swing is back before `HOLD` is over.
 */
const SHORTEST = 0.1;
const GAP = 0.06;
const AWAY = 0.7;
const HOLD = 0.08;
/** The detector sometimes takes an overtone or half the pitch for the note; nobody sings an octave that short. */
const OCTAVE_HOLD = 0.2;
const NEAR_OCTAVE = 0.6;
/** Frames over which one stray reading is dropped. */
const SMOOTH = 5;

interface Plateau {
  readonly from: number;
  to: number;
  readonly midis: number[];
  /** Whether it follows the one before without a silence. */
  readonly joined: boolean;
}

const lengthOf = ({ from, to }: Plateau): number => to - from;
const isOctave = (a: number, b: number): boolean => Math.abs(Math.abs(a - b) - 12) < NEAR_OCTAVE;

/** Parts a sung line into notes: a note is a pitch that stays, ended by another that stays, or by silence. */
export class SungNotes {
  readonly #done: Plateau[] = [];
  #current: Plateau | null = null;
  /** Frames that have left the current pitch and may be the next note. */
  #away: { seconds: number; midi: number }[] = [];
  #recent: number[] = [];
  #heard: number | null = null;

  push({ seconds, midi }: PitchFrame): void {
    if (midi === null) {
      if (this.#heard === null || seconds - this.#heard >= GAP) this.#silence();
      return;
    }
    this.#heard = seconds;
    this.#recent = [...this.#recent.slice(1 - SMOOTH), midi];
    const smooth = medianOf(this.#recent);
    if (!this.#current) {
      const joined = this.#done.length > 0 && seconds - (this.#done.at(-1)?.to ?? 0) < GAP;
      this.#current = { from: seconds, to: seconds, midis: [smooth], joined };
    } else this.#goOn(this.#current, seconds, smooth);
  }

  /** The pitch that sounds now, to the nearest semitone; null: silence. */
  get sounding(): number | null {
    return this.#current ? Math.round(medianOf(this.#current.midis.slice(-SMOOTH))) : null;
  }

  /** The notes so far, the one that still sounds too once it is long enough. */
  get notes(): SungNote[] {
    const all = [...this.#done, ...(this.#current ? [this.#current] : [])];
    const kept = all.filter((each, i) => {
      const next = all[i + 1];
      if (lengthOf(each) < SHORTEST) return false;
      // An overtone at the beginning of a note.
      const isSlip =
        next?.joined === true &&
        lengthOf(each) < OCTAVE_HOLD &&
        isOctave(medianOf(each.midis), medianOf(next.midis));
      return !isSlip;
    });
    const pitches = kept.map(({ midis }) => medianOf(midis));
    const off = tuningOf(pitches);
    return joinedUp(
      kept,
      pitches.map((pitch) => Math.round(pitch - off)),
    );
  }

  #goOn(current: Plateau, seconds: number, midi: number): void {
    const centre = medianOf(current.midis.slice(-40));
    if (Math.abs(midi - centre) < AWAY) {
      current.midis.push(midi);
      current.to = seconds;
      this.#away = [];
      return;
    }
    this.#away.push({ seconds, midi });
    const since = seconds - (this.#away[0]?.seconds ?? seconds);
    const hold = this.#away.every((each) => isOctave(each.midi, centre)) ? OCTAVE_HOLD : HOLD;
    if (since < hold) return;
    const [first] = this.#away;
    this.#done.push(current);
    this.#current = {
      from: first?.seconds ?? seconds,
      to: seconds,
      midis: this.#away.map((each) => each.midi),
      joined: true,
    };
    this.#away = [];
  }

  #silence(): void {
    if (this.#current) this.#done.push(this.#current);
    this.#current = null;
    this.#away = [];
    this.#recent = [];
  }
}

/** How far someone sings beside the piano, in semitones from -0.5 to 0.5: the middle of what is left over, on a circle. */
function tuningOf(pitches: readonly number[]): number {
  let [x, y] = [0, 0];
  for (const pitch of pitches) {
    x += Math.cos(2 * Math.PI * pitch);
    y += Math.sin(2 * Math.PI * pitch);
  }
  return x === 0 && y === 0 ? 0 : Math.atan2(y, x) / (2 * Math.PI);
}

/** A slide leaves a step of its own between two notes of one pitch or beside one: neighbours without a gap that agree are one. */
function joinedUp(plateaus: readonly Plateau[], midis: readonly number[]): SungNote[] {
  const notes: SungNote[] = [];
  plateaus.forEach((plateau, i) => {
    const midi = midis[i] ?? 0;
    const last = notes.at(-1);
    const before = plateaus[i - 1];
    const isOne =
      last?.midi === midi &&
      before !== undefined &&
      plateau.from - before.to < GAP + HOLD &&
      plateau.joined;
    if (last && isOne)
      notes[notes.length - 1] = { midi, seconds: last.seconds + lengthOf(plateau) };
    else notes.push({ midi, seconds: lengthOf(plateau) });
  });
  return notes;
}
