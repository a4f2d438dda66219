/** What is counted: beats of one length, so many a bar. */
export interface ClickPlan {
  readonly beatsPerBar: number;
  readonly perMinute: number;
}

/** One click on the clock of the audio device. */
export interface ClickAt {
  /** From 0; the first bar is counted in. */
  readonly beat: number;
  readonly seconds: number;
  /** The first of a bar. */
  readonly strong: boolean;
}

/** The part of an audio device that a click needs. */
export interface ClickDevice {
  /** Seconds. */
  readonly now: () => number;
  readonly sound: (seconds: number, strong: boolean) => void;
}

/** Clicks are put on the device's clock so far ahead, s: a page that stalls for less drops none. */
const AHEAD = 0.25;
/** How often that is looked after, ms. */
const EVERY = 25;
/** Time to get the hands ready, s. */
const LEAD = 0.15;

/** The clicks that begin before a moment, from a beat on. */
export function clicksBefore(
  plan: ClickPlan,
  start: number,
  from: number,
  until: number,
): ClickAt[] {
  const clicks: ClickAt[] = [];
  for (let beat = from; ; beat += 1) {
    const seconds = start + (beat * 60) / plan.perMinute;
    if (seconds >= until) return clicks;
    clicks.push({ beat, seconds, strong: beat % plan.beatsPerBar === 0 });
  }
}

/** A click that goes on until it is stopped; the first bar is the count-in. */
export class Click {
  readonly #plan: ClickPlan;
  readonly #device: ClickDevice;
  readonly #start: number;
  #next = 0;
  readonly #timer: ReturnType<typeof setInterval>;

  constructor(plan: ClickPlan, device: ClickDevice) {
    this.#plan = plan;
    this.#device = device;
    this.#start = device.now() + LEAD;
    this.#timer = setInterval(() => this.#schedule(), EVERY);
    this.#schedule();
  }

  /** When the bar after the count-in begins, seconds on the device's clock. */
  get begins(): number {
    return this.#start + (this.#plan.beatsPerBar * 60) / this.#plan.perMinute;
  }

  /** Beats since that bar began; negative while it is counted in. */
  get beat(): number {
    return ((this.#device.now() - this.begins) * this.#plan.perMinute) / 60;
  }

  stop(): void {
    clearInterval(this.#timer);
  }

  #schedule(): void {
    const until = this.#device.now() + AHEAD;
    for (const { beat, seconds, strong } of clicksBefore(
      this.#plan,
      this.#start,
      this.#next,
      until,
    )) {
      this.#device.sound(seconds, strong);
      this.#next = beat + 1;
    }
  }
}

/** A short tone on an audio device: higher on the first beat. */
export function clickDevice(context: AudioContext): ClickDevice {
  return {
    now: () => context.currentTime,
    sound: (seconds, strong) => {
      const tone = context.createOscillator();
      const gain = context.createGain();
      tone.frequency.value = strong ? 1760 : 1175;
      gain.gain.setValueAtTime(0.35, seconds);
      gain.gain.exponentialRampToValueAtTime(0.001, seconds + 0.05);
      tone.connect(gain).connect(context.destination);
      tone.start(seconds);
      tone.stop(seconds + 0.06);
    },
  };
}
