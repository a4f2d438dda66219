import { Autocorrelator } from 'pitchy';
import { midiOfHz, type PitchFrame } from './sung-notes.ts';

/** Samples that are wanted for each look: those that are looked at, and as many before them, which bring the filters to rest. */
export const WINDOW = 4096;
/** Samples that are looked at together: at 44.1 kHz 46 ms, nearly three swings of the lowest note that is heard. */
const LOOK = 2048;
/** Between one look and the next, in ms. */
export const HOP = 20;
/** How much the sound repeats itself, 0–1 (McLeod and Wyvill 2005); below it is noise, breath or a consonant. */
const CLEAR = 0.9;
/** In a noisy room, where several looks have to agree besides: noise 10 dB below a voice leaves 1 / (1 + 0.1) of it. */
export const CLEAR_ENOUGH = 0.8;
/** Hz: from below the lowest bass to above the highest soprano. */
const LOWEST = 60;
const HIGHEST = 1200;
/** Softer than this is the room: the highest swing of a window, 0–1 (-46 dB). */
const SOFTEST = 10 ** (-46 / 20);
/** How nearly (McLeod and Wyvill 2005: 0.8 to 1). */
const NEARLY = 0.9;
/** Seconds that a note is followed through, where a swing of the voice blurs it. */
const FOLLOWED = 0.12;
/** How far from where it was expected it may lie, as a share of its period, and how clear it has to be there. */
const NEAR = 0.12;
const CLEAR_NEAR = 0.7;
/**
 * So much better must two or three periods agree than one before that one was an overtone's, in the mean of some looks:
 * in the sound as it came, which noise disturbs least, or in the darkened one, which vibrato disturbs least. Our own
 * choice, tried on sung vowels.
 */
const BETTER = 0.012;
const BETTER_DARKENED = 0.08;
const OVERTONES = [2, 3] as const;
/** The share of each new look in that mean. */
const NEWEST = 0.25;
/** Hz: below it lie no voices, but steps, wind and mains. */
const RUMBLE = 50;
/** Samples a second of most devices; others hear the rumble a little higher or lower. */
const USUAL_RATE = 44_100;
/**
 * The sound without rumble, and 12 dB an octave darker above some frequency: what is left of a vowel is the swing of its
 * ground tone, which a vibrato blurs least.
 * @param out the end of it, as many samples as it has
 * @param dark as a share of the samples a second
 */
function darken(samples: Float32Array, out: Float32Array, dark: number): void {
  const [rumble, pole] = [RUMBLE / USUAL_RATE, dark].map(
    (each) => 1 - Math.exp(-2 * Math.PI * each),
  );
  let [slow, one, two] = [0, 0, 0];
  const before = samples.length - out.length;
  for (let i = 0; i < samples.length; i += 1) {
    const sample = samples[i] ?? 0;
    slow += (rumble ?? 0) * (sample - slow);
    one += (pole ?? 0) * (sample - slow - one);
    two += (pole ?? 0) * (one - two);
    if (i >= before) out[i - before] = two;
  }
}

/**
 * How well a sound agrees with itself some samples later, for each lag: 1 fully, 0 not at all (the normalised square
 * difference of the McLeod pitch method, 2·r(τ) / m(τ)).
 */
class Agreement {
  readonly #correlator = Autocorrelator.forFloat32Array(LOOK);
  readonly #values = new Float32Array(LOOK);

  of(samples: Float32Array): Float32Array {
    const values = this.#correlator.autocorrelate(samples, this.#values);
    let power = 2 * (values[0] ?? 0);
    for (let lag = 0; lag < LOOK; lag += 1) {
      values[lag] = power > 0 ? (2 * (values[lag] ?? 0)) / power : 0;
      power -= (samples[lag] ?? 0) ** 2 + (samples[LOOK - 1 - lag] ?? 0) ** 2;
    }
    return values;
  }
}

/** A lag between two samples at which the agreement is highest, with a parabola through its neighbours. */
function peakAt(values: Float32Array, lag: number): { period: number; clear: number } {
  const [left, here, right] = [lag - 1, lag, lag + 1].map((each) => values[each] ?? 0) as [
    number,
    number,
    number,
  ];
  const bend = left - 2 * here + right;
  const by = bend < 0 ? (left - right) / (2 * bend) : 0;
  return { period: lag + by, clear: here - ((left - right) * by) / 4 };
}

/** The highest agreement from one lag to another; null: it is highest at an end, so that none of them is a period. */
function bestBetween(
  values: Float32Array,
  from: number,
  to: number,
): { period: number; clear: number } | null {
  let best = from;
  for (let lag = from + 1; lag <= to; lag += 1) {
    if ((values[lag] ?? 0) > (values[best] ?? 0)) best = lag;
  }
  return best === from || best === to ? null : peakAt(values, best);
}

/**
 * The first period that agrees with itself nearly as well as the best one does: of each stretch above nothing the highest
 * point counts (McLeod and Wyvill 2005, 5).
 */
function firstPeriod(values: Float32Array, longest: number): { period: number; clear: number } {
  const peaks: number[] = [];
  let lag = 1;
  while (lag < longest && (values[lag] ?? 0) > 0) lag += 1;
  while (lag < longest) {
    while (lag < longest && (values[lag] ?? 0) <= 0) lag += 1;
    let best = lag;
    for (; lag < longest && (values[lag] ?? 0) > 0; lag += 1) {
      if ((values[lag] ?? 0) > (values[best] ?? 0)) best = lag;
    }
    if (best < longest - 1) peaks.push(best);
  }
  const highest = Math.max(0, ...peaks.map((each) => values[each] ?? 0));
  const first = peaks.find((each) => (values[each] ?? 0) >= NEARLY * highest);
  return first === undefined ? { period: 0, clear: 0 } : peakAt(values, first);
}

/** The agreement at the better of the two whole lags beside a period. */
function agreementAt(values: Float32Array, period: number): number {
  const below = Math.floor(period);
  return Math.max(values[below] ?? 0, values[below + 1] ?? 0);
}

/** How much better two or three periods agree than one; 1: enough. */
function betterIn(values: Float32Array, found: number, longest: number, enough: number): number[] {
  const plain = agreementAt(values, found);
  return OVERTONES.map((times) =>
    found * times > longest ? 0 : (agreementAt(values, found * times) - plain) / enough,
  );
}

/** Reads pitches out of a sound, window by window in time, by the McLeod pitch method. */
export class PitchReader {
  readonly #agreement = new Agreement();
  readonly #darkened = new Float32Array(LOOK);
  readonly #clear: number;
  /** The note that is followed: its period in samples, and when it was heard. */
  #followed: { period: number; seconds: number } | null = null;
  /** What looked like a period, and how much better two or three of it agree, in the mean, as it came and darkened. */
  #taken = 0;
  #better: readonly (readonly number[])[] = [];

  /** @param clear how much a sound has to repeat itself to be a note, 0–1 */
  constructor(clear: number = CLEAR) {
    this.#clear = clear;
  }

  /** @param samples as many as `WINDOW`, -1 to 1 */
  read(samples: Float32Array, sampleRate: number, seconds: number): PitchFrame {
    const near = this.#expected(samples, sampleRate, seconds);
    if (near === null) return { seconds, midi: null };
    darken(samples, this.#darkened, 1 / near);
    const values = this.#agreement.of(this.#darkened);
    const [from, to] = [Math.floor(near * (1 - NEAR)), Math.ceil(near * (1 + NEAR))];
    const best = bestBetween(values, from, to);
    const hz = best ? sampleRate / best.period : 0;
    if (!best || best.clear < CLEAR_NEAR || hz < LOWEST || hz > HIGHEST) {
      return { seconds, midi: null };
    }
    this.#followed = { period: best.period, seconds };
    return { seconds, midi: midiOfHz(hz) };
  }

  /** About where the period lies, in samples: as the sound itself says, or where it is not clear the note before; null: no note. */
  #expected(samples: Float32Array, sampleRate: number, seconds: number): number | null {
    if (this.#followed && seconds - this.#followed.seconds > FOLLOWED) this.#followed = null;
    if (samples.every((sample) => Math.abs(sample) < SOFTEST)) return null;
    const values = this.#agreement.of(samples.subarray(-LOOK));
    const longest = Math.min(LOOK / 2, sampleRate / LOWEST);
    const found = firstPeriod(values, longest);
    if (found.clear >= this.#clear) return this.#ground(samples, values, found.period, longest);
    return this.#followed?.period ?? null;
  }

  /**
   * A vowel can make its second or third overtone far louder than the rest, so that half or a third of a period looks
   * like a whole one. A real period agrees with itself about as well twice or three times later; that of an overtone does
   * better there, once the sound is darker than it.
   */
  #ground(samples: Float32Array, values: Float32Array, found: number, longest: number): number {
    const isNew = Math.abs(found / this.#taken - 1) > NEAR;
    this.#taken = found;
    const seen = [betterIn(values, found, longest, BETTER)];
    darken(samples, this.#darkened, 1 / (2 * found));
    const darkened = this.#agreement.of(this.#darkened);
    seen.push(betterIn(darkened, found, longest, BETTER_DARKENED));
    this.#better = seen.map((each, i) =>
      each.map((now, j) => {
        const mean = this.#better[i]?.[j] ?? 0;
        return isNew ? now : mean + NEWEST * (now - mean);
      }),
    );
    const [two = 0, three = 0] = OVERTONES.map((_, j) =>
      Math.max(...this.#better.map((each) => each[j] ?? 0)),
    );
    if (Math.max(two, three) < 1) return found;
    return found * (two >= three ? 2 : 3);
  }
}
