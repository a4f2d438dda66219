import { Pitches, type PitchName } from '#music';
import { fetchSample } from '#web/api/samples.ts';
import { midiOfRecording, sound, trimmed, type Release } from './sampler.ts';
import { SAMPLED } from './sampled.ts';

/** Seconds of a recording that are kept: longer than anyone holds a note to hear where it lies. */
const KEPT = 6;

/** The piano that sounds under the drawn keys. Nothing is fetched before the first key is pressed. */
class Sound {
  /** `silent` until the first press; `soft`: the oscillator stands in; `piano`: the recordings are there. */
  state = $state<'silent' | 'soft' | 'piano'>('silent');
  #context: AudioContext | null = null;
  #recordings = new Map<number, AudioBuffer>();
  #held = new Map<PitchName, Release>();

  press(pitch: PitchName): void {
    const context = (this.#context ??= new AudioContext());
    void context.resume();
    this.release(pitch);
    this.#held.set(pitch, sound(context, this.#recordings, Pitches.midiOf(pitch)));
    if (this.state === 'silent') {
      this.state = 'soft';
      void this.#load(context);
    }
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
