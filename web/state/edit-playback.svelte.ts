import { Time, type PitchName, type Score, type Ticks } from '#music';
import { playedFrom, type Played } from './edit-tones.ts';
import type { Release } from './sampler.ts';

/** What a player needs of the sound of a device. */
export interface PlayDevice {
  /** Makes ready; `plain`: the recordings did not come and plain tones stand in, `silent`: nothing can sound. */
  ready(): Promise<'recorded' | 'plain' | 'silent'>;
  /** Seconds. */
  now(): number;
  /** Sounds a note from a moment on. */
  at(pitch: PitchName, seconds: number, level: number): Release;
}

/** What is played on: a song that is written, and its cursor. */
export interface Listened {
  readonly score: Score | null;
  /** Where the cursor was put. */
  readonly place: Ticks;
  readonly take: { readonly state: string } | null;
  readonly follow: (at: Ticks) => void;
}

/** Tones are put on the device's clock so far ahead, s; how often that is looked after, ms; time to begin, s. */
const [AHEAD, EVERY, LEAD] = [0.3, 40, 0.1];

const PLAIN = 'The recorded piano could not be fetched: plain tones sound in its stead.';
const SILENT = 'This browser lets nothing sound here.';

/** The song as it sounds from the cursor on, which goes along. It stops at an edit, or where the cursor is put elsewhere. */
export class Playback {
  state = $state<'silent' | 'fetching' | 'playing'>('silent');
  /** What one waits for, or what is not as it should be. */
  words = $state('');
  readonly #song: Listened;
  readonly #device: PlayDevice;
  #timer: ReturnType<typeof setInterval> | undefined;
  #sounding: Release[] = [];

  constructor(song: Listened, device: PlayDevice) {
    this.#song = song;
    this.#device = device;
  }

  toggle(): void {
    if (this.state === 'silent') void this.start();
    else this.stop();
  }

  /** From the cursor; from the beginning where it stands after the last bar. */
  async start(): Promise<void> {
    const { score, place, take } = this.#song;
    if (!score || score.untimed || this.state !== 'silent' || take?.state === 'playing') return;
    [this.state, this.words] = ['fetching', 'Fetching the piano …'];
    const made = await this.#device.ready();
    // It may have been stopped, or something written, meanwhile.
    if ((this.state as string) !== 'fetching') return;
    if (made === 'silent' || this.#song.score !== score) this.stop();
    this.words = { recorded: '', plain: PLAIN, silent: SILENT }[made];
    if ((this.state as string) !== 'fetching') return;
    const from = place < Time.endOf(score) ? place : 0;
    this.state = 'playing';
    this.#play(score, from);
  }

  stop(): void {
    clearInterval(this.#timer);
    for (const release of this.#sounding) release();
    this.#sounding = [];
    if (this.state === 'fetching') this.words = '';
    this.state = 'silent';
  }

  #play(score: Score, from: Ticks): void {
    const device = this.#device;
    const played = playedFrom(score, from);
    const begins = device.now() + LEAD;
    let [next, cursor] = [0, from];
    this.#song.follow(from);
    const work = (): void => {
      const { score: now, place, take } = this.#song;
      if (now !== score || place !== cursor || take?.state === 'playing') return this.stop();
      const gone = device.now() - begins;
      if (gone > played.length) {
        this.stop();
        return this.#song.follow(from);
      }
      next = this.#sound(played, next, begins);
      const at = played.steps.findLast((step) => step.from <= gone)?.at ?? from;
      if (at !== cursor) this.#song.follow((cursor = at));
    };
    work();
    if (this.state === 'playing') this.#timer = setInterval(work, EVERY);
  }

  /** Puts on the clock what begins soon. Returns the first tone that is still to come. */
  #sound({ tones }: Played, first: number, begins: number): number {
    const until = this.#device.now() + AHEAD;
    let next = first;
    for (let tone = tones[next]; tone && begins + tone.from < until; tone = tones[next]) {
      const release = this.#device.at(tone.pitch, begins + tone.from, tone.level);
      release(begins + tone.to);
      this.#sounding.push(release);
      next += 1;
    }
    return next;
  }
}
