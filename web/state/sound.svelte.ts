import { Pitches, type PitchName } from '#music';
import { fetchSample } from '#web/api/samples.ts';
import { midiOfRecording, sound, trimmed, type Release } from './sampler.ts';
import { SAMPLED } from './sampled.ts';

/** Seconds of a recording that are kept: longer than anyone holds a note to hear where it lies. */
const KEPT = 6;

/** A browser that lets something sound does so at once; waited for, ms. */
const RESUMED_WITHIN = 2000;

/** The piano that sounds under the drawn keys. Nothing is fetched before the first key is pressed. */
class Sound {
  /** `silent` until the first press; `soft`: the oscillator stands in; `piano`: the recordings are there. */
  state = $state<'silent' | 'soft' | 'piano'>('silent');
  #context: AudioContext | null = null;
  #recordings = new Map<number, AudioBuffer>();
  #held = new Map<PitchName, Release>();
  #loading: Promise<void> | null = null;

  press(pitch: PitchName): void {
    const context = (this.#context ??= new AudioContext());
    void context.resume();
    this.release(pitch);
    this.#held.set(pitch, sound(context, this.#recordings, Pitches.midiOf(pitch)));
    void this.#fetch(context);
  }

  /** Waits for the recordings. `plain`: none came, the oscillator stands in; `silent`: the browser lets nothing sound. */
  async ready(): Promise<'recorded' | 'plain' | 'silent'> {
    if (typeof AudioContext === 'undefined') return 'silent';
    const context = (this.#context ??= new AudioContext());
    const waited = new Promise((done) => setTimeout(done, RESUMED_WITHIN));
    await Promise.all([this.#fetch(context), Promise.race([context.resume(), waited])]);
    if (context.state !== 'running') return 'silent';
    return this.#recordings.size > 0 ? 'recorded' : 'plain';
  }

  /** Seconds on the clock of the device; 0 before anything sounded. */
  now(): number {
    return this.#context?.currentTime ?? 0;
  }

  /** Sounds a note from a moment on that clock, after `ready`. */
  at(pitch: PitchName, seconds: number, level: number): Release {
    const context = (this.#context ??= new AudioContext());
    return sound(context, this.#recordings, Pitches.midiOf(pitch), seconds, level);
  }

  release(pitch: PitchName): void {
    this.#held.get(pitch)?.();
    this.#held.delete(pitch);
  }

  /** Sounds a note for a while, for a key that is pressed by keyboard or tapped. */
  tap(pitch: PitchName, ms = 900): void {
    this.press(pitch);
    const release = this.#held.get(pitch);
    setTimeout(() => {
      if (this.#held.get(pitch) === release) this.release(pitch);
    }, ms);
  }

  /** Once; again where nothing came. */
  #fetch(context: AudioContext): Promise<void> {
    if (this.state === 'silent') this.state = 'soft';
    return (this.#loading ??= this.#load(context).then(() => {
      if (this.#recordings.size === 0) this.#loading = null;
    }));
  }

  async #load(context: AudioContext): Promise<void> {
    await Promise.all(
      SAMPLED.map(async (name) => {
        const bytes = await fetchSample(name);
        if (!bytes) return;
        try {
          const buffer = trimmed(context, await context.decodeAudioData(bytes), KEPT);
          this.#recordings.set(midiOfRecording(name), buffer);
        } catch {
          // A recording that cannot be read leaves its neighbours to stand in.
        }
      }),
    );
    if (this.#recordings.size > 0) this.state = 'piano';
  }
}

export const piano = new Sound();
