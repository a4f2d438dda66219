import { medianOf, type PitchFrame } from './sung-notes.ts';

/**
 * Seconds and semitones; our own choices, tried on synthetic voices. Vibrato swings half a semitone to a whole one to
 * each side, five to six times a second, so that the window holds three swings.
 */
const WINDOW = 0.6;
const SHORTEST = 0.12;
const GAP = 0.1;
/** So far from the middle is another note, or a slip. */
const AWAY = 1.6;
const BELIEVED = 0.08;
/** An octave, a twelfth or two octaves away it is likelier a slip of the detector than a leap: it has to last. */
const SLIPS = [12, 19, 24];
const NEAR_SLIP = 0.8;
const LEAP_BELIEVED = 0.3;

interface Heard {
  readonly seconds: number;
  readonly midi: number;
}

const centreOf = (frames: readonly Heard[]): number => medianOf(frames.map(({ midi }) => midi));
const lengthOf = (frames: readonly Heard[]): number =>
  (frames.at(-1)?.seconds ?? 0) - (frames[0]?.seconds ?? 0);

/** One sung note and where exactly it lies: the middle of its vibrato, without the slips of the detector. */
export class HeldNote {
  #frames: Heard[] = [];
  /** Frames that have left the note, and may be another one. */
  #away: Heard[] = [];
  #heard = -Infinity;

  push({ seconds, midi }: PitchFrame): void {
    if (midi === null) {
      if (seconds - this.#heard > GAP) this.clear();
      return;
    }
    this.#heard = seconds;
    const centre = centreOf(this.#frames);
    if (this.#frames.length > 0 && Math.abs(midi - centre) > AWAY) {
      this.#leave({ seconds, midi }, centre);
      return;
    }
    this.#away = [];
    this.#frames = [
      ...this.#frames.filter((each) => each.seconds > seconds - WINDOW),
      { seconds, midi },
    ];
  }

  clear(): void {
    [this.#frames, this.#away] = [[], []];
  }

  /** Fractions of a semitone, C4 = 60; null: silence, or not yet clear. The middle counts most (von Hann's window). */
  get midi(): number | null {
    const length = lengthOf(this.#frames);
    if (length < SHORTEST) return null;
    const start = this.#frames[0]?.seconds ?? 0;
    let [sum, weights] = [0, 0];
    for (const { seconds, midi } of this.#frames) {
      const weight = 1e-6 + Math.sin((Math.PI * (seconds - start)) / length) ** 2;
      sum += weight * midi;
      weights += weight;
    }
    return sum / weights;
  }

  #leave(heard: Heard, centre: number): void {
    const agree = this.#away.every((each) => Math.abs(each.midi - heard.midi) <= AWAY);
    this.#away = agree ? [...this.#away, heard] : [heard];
    const far = Math.abs(centreOf(this.#away) - centre);
    const isSlip = SLIPS.some((slip) => Math.abs(far - slip) < NEAR_SLIP);
    if (lengthOf(this.#away) < (isSlip ? LEAP_BELIEVED : BELIEVED)) return;
    this.#frames = this.#away;
    this.#away = [];
  }
}
