/**
 * Sung vowels by the source-filter model (Fant 1960): a train of glottal pulses (Rosenberg 1971, J. Acoust. Soc. Am.
 * 49, 583–590, his trigonometric shape: opening 0.4 and closing 0.16 of a period), three resonances one after the other
 * (the digital resonator of Klatt 1980, J. Acoust. Soc. Am. 67, 971–995), and the lips as a first difference. Its pitch
 * is known, as it is what the pulses are made with.
 */
export type Throat = 'man' | 'woman' | 'child';
export type Vowel = 'i' | 'ɛ' | 'ɑ' | 'ɔ' | 'u';

/**
 * F1, F2, F3 in Hz: averages of 33 men, 28 women and 15 children (Peterson and Barney 1952, Control methods used in a
 * study of the vowels, J. Acoust. Soc. Am. 24, 175–184, Table II; the men's were seen in copies of it, the women's and the
 * children's are from memory).
 */
export const FORMANTS: Readonly<Record<Throat, Readonly<Record<Vowel, readonly number[]>>>> = {
  man: {
    i: [270, 2290, 3010],
    ɛ: [530, 1840, 2480],
    ɑ: [730, 1090, 2440],
    ɔ: [570, 840, 2410],
    u: [300, 870, 2240],
  },
  woman: {
    i: [310, 2790, 3310],
    ɛ: [610, 2330, 2990],
    ɑ: [850, 1220, 2810],
    ɔ: [590, 920, 2710],
    u: [370, 950, 2670],
  },
  child: {
    i: [370, 3200, 3730],
    ɛ: [690, 2610, 3570],
    ɑ: [1030, 1370, 3170],
    ɔ: [680, 1060, 3180],
    u: [430, 1170, 3260],
  },
};
/** Hz, of the three resonances (Klatt 1980, Table III, the vowels of one man; from memory). */
const BANDWIDTHS: Readonly<Record<Vowel, readonly number[]>> = {
  i: [45, 200, 400],
  ɛ: [60, 90, 200],
  ɑ: [130, 70, 160],
  ɔ: [90, 100, 80],
  u: [65, 110, 140],
};
const [OPENING, CLOSING] = [0.4, 0.16];

export interface SungVowel {
  readonly throat: Throat;
  readonly vowel: Vowel;
  /** C4 = 60; with vibrato its middle. */
  readonly midi: number;
  readonly seconds: number;
  /** Cents to each side, and swings a second. */
  readonly vibrato?: { readonly cents: number; readonly rate: number };
  /** Noise of all frequencies alike, so many dB below the voice. */
  readonly noiseDb?: number;
}

/** Numbers from -1 to 1 that look like chance and are always the same (linear congruential, Numerical Recipes). */
export function chance(seed = 1): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 31 - 1;
  };
}

function pulse(phase: number): number {
  if (phase < OPENING) return 0.5 * (1 - Math.cos((Math.PI * phase) / OPENING));
  if (phase < OPENING + CLOSING) return Math.cos((0.5 * Math.PI * (phase - OPENING)) / CLOSING);
  return 0;
}

/** One resonance, in place. */
function resonate(samples: Float64Array, hz: number, bandwidth: number, rate: number): void {
  const c = -Math.exp((-2 * Math.PI * bandwidth) / rate);
  const b = 2 * Math.exp((-Math.PI * bandwidth) / rate) * Math.cos((2 * Math.PI * hz) / rate);
  const a = 1 - b - c;
  let [before, beforeThat] = [0, 0];
  for (let i = 0; i < samples.length; i += 1) {
    const now = a * (samples[i] ?? 0) + b * before + c * beforeThat;
    beforeThat = before;
    before = now;
    samples[i] = now;
  }
}

const powerOf = (samples: Float64Array): number =>
  samples.reduce((sum, each) => sum + each * each, 0) / samples.length;

/** @param rate samples a second; as loud as one sings: root mean square 0.1 of the fullest */
export function singVowel(sung: SungVowel, rate: number): Float32Array {
  const { throat, vowel, midi, seconds, vibrato, noiseDb } = sung;
  const samples = new Float64Array(Math.round(seconds * rate));
  let [phase, before] = [0, 0];
  for (let i = 0; i < samples.length; i += 1) {
    const swing = vibrato
      ? (vibrato.cents / 100) * Math.sin((2 * Math.PI * vibrato.rate * i) / rate)
      : 0;
    phase = (phase + (440 * 2 ** ((midi + swing - 69) / 12)) / rate) % 1;
    const flow = pulse(phase);
    samples[i] = flow - before;
    before = flow;
  }
  const formants = FORMANTS[throat][vowel];
  formants.forEach((hz, i) => resonate(samples, hz, BANDWIDTHS[vowel][i] ?? 100, rate));
  const power = powerOf(samples);
  const loud = 0.1 / Math.sqrt(power);
  const next = chance(1 + Math.round(midi * 100));
  // Evenly spread numbers from -1 to 1 have the power 1/3.
  const noise = noiseDb === undefined ? 0 : Math.sqrt(3 * power * 10 ** (-noiseDb / 10));
  return Float32Array.from(samples, (sample, i) => {
    const t = i / rate;
    const fade = Math.max(0, Math.min(1, t / 0.03, (seconds - t) / 0.03));
    return loud * (fade * sample + noise * next());
  });
}
