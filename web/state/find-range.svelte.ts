import {
  FindRange,
  Pitches,
  type PitchName,
  type Range,
  type RangeAnswer,
  type RangeSearch,
  type VoiceKind,
} from '#music';
import { HeldNote } from './held-note.ts';
import { Microphone } from './microphone.svelte.ts';
import { CLEAR_ENOUGH } from './pitch-frames.ts';
import type { PitchFrame } from './sung-notes.ts';

/** Seconds that a note is held before it counts as easy (our choice), and how far beside it one may be, in semitones. */
const HELD = 1;
const NEAR = 0.5;
/** A breath or a slip that does not end a held note, in seconds. */
const GAP = 0.2;
/** While the asked note sounds from the loudspeaker the microphone would hear that: seconds, of a tap and what rings on. */
const SOUNDING = 1.5;

/** What lets notes sound: see `sound.svelte.ts`. */
interface Sound {
  tap: (pitch: PitchName) => void;
}

/**
 * Looks for someone's comfortable range, note by note: by keys and what they say of it, or by the microphone, which says
 * whether a note was held. Nothing leaves this but the range, once it is kept.
 */
export class RangeFinding {
  /** null: nobody has said which voice it is. */
  search = $state.raw<RangeSearch | null>(null);
  /** What is sung now, in semitones with fractions, C4 = 60; null: nothing clear. */
  sung = $state<number | null>(null);
  /** How long the asked note is held, 0–1. */
  held = $state(0);
  /** Whole octaves that someone holds the asked note beside it; 0: none. */
  octaveAway = $state<-1 | 0 | 1>(0);
  readonly #sound: Sound;
  readonly #microphone = new Microphone((frame) => this.#hear(frame), CLEAR_ENOUGH);
  readonly #note = new HeldNote();
  #deafUntil = 0;
  #since: { at: number; away: -1 | 0 | 1; last: number } | null = null;

  constructor(sound: Sound) {
    this.#sound = sound;
  }

  readonly stage = $derived(this.search && FindRange.stageOf(this.search));
  /** The note that is asked; null: none. */
  readonly asked = $derived(this.stage && 'note' in this.stage ? this.stage.note : null);
  readonly found: Range | null = $derived(this.stage?.stage === 'found' ? this.stage.range : null);

  get hearing(): Microphone['hearing'] {
    return this.#microphone.hearing;
  }

  choose(voice: VoiceKind): void {
    this.#go(FindRange.begin(voice));
  }

  answer(given: RangeAnswer): void {
    if (this.search) this.#go(FindRange.answer(this.search, given));
  }

  /** One step back, in the end to the question which voice it is. */
  back(): void {
    if (this.search?.answers.length) this.#go(FindRange.back(this.search));
    else this.beginAgain();
  }

  beginAgain(): void {
    this.search = null;
    this.#forget();
    this.#microphone.stop();
  }

  /** Looks where the singer really sings. */
  takeOctave(): void {
    const away = this.octaveAway;
    if (this.search && away !== 0) this.#go(FindRange.anOctave(this.search, away));
  }

  /** Lets a key sound, the asked one or another. */
  sound(pitch: PitchName): void {
    this.#deafUntil = performance.now() + 1000 * SOUNDING;
    this.#forget();
    this.#sound.tap(pitch);
  }

  async listen(): Promise<void> {
    await this.#microphone.start();
    if (this.asked) this.sound(this.asked);
  }

  stopListening(): void {
    this.#microphone.stop();
    this.#forget();
  }

  #go(search: RangeSearch): void {
    this.search = search;
    this.#forget();
    if (this.asked) this.sound(this.asked);
    else this.#microphone.stop();
  }

  #forget(): void {
    this.#note.clear();
    [this.sung, this.held, this.octaveAway, this.#since] = [null, 0, 0, null];
  }

  #hear(frame: PitchFrame): void {
    if (!this.asked || performance.now() < this.#deafUntil) return;
    this.#note.push(frame);
    const { midi } = this.#note;
    this.sung = midi;
    this.#hold(midi, frame.seconds, Pitches.midiOf(this.asked));
  }

  /** Counts how long the asked note, or the same an octave away, is held. */
  #hold(midi: number | null, seconds: number, asked: number): void {
    const away = ([0, -1, 1] as const).find(
      (octave) => midi !== null && Math.abs(midi - asked - 12 * octave) < NEAR,
    );
    const since = this.#since;
    if (away === undefined) {
      if (since && seconds - since.last > GAP) [this.#since, this.held] = [null, 0];
      return;
    }
    this.#since =
      since?.away === away ? { ...since, last: seconds } : { at: seconds, away, last: seconds };
    const share = Math.min(1, (seconds - this.#since.at) / HELD);
    this.held = away === 0 ? share : 0;
    this.octaveAway = away !== 0 && share === 1 ? away : this.octaveAway;
    if (away === 0 && share === 1) this.answer('easy');
  }
}
