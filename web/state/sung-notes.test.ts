import { describe, expect, it } from 'vitest';
import { HOP, PitchReader, WINDOW } from './pitch-frames.ts';
import { midiOfHz, SungNotes } from './sung-notes.ts';

const RATE = 44_100;

interface Voice {
  /** Loudness of the overtones, the ground tone first. */
  readonly overtones: readonly number[];
  /** Semitones to each side, and swings a second. */
  readonly vibrato?: { readonly depth: number; readonly rate: number };
  /** Noise beside the voice, 0–1 of its loudness. */
  readonly breath?: number;
  /** How far it lies beside the piano, in semitones. */
  readonly off?: number;
  /** Seconds of sliding into a note from the one before. */
  readonly slide?: number;
}

/** One note: its pitch (C4 = 60; null: silence) and its length in seconds. */
type Sung = readonly [midi: number | null, seconds: number];

/** Numbers from -1 to 1 that look like chance and are always the same (linear congruential, Numerical Recipes). */
function noise(): () => number {
  let seed = 1;
  return () => {
    seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
    return seed / 2 ** 31 - 1;
  };
}

/** A voice made of sine waves, as a microphone would hear it. */
function sing(line: readonly Sung[], voice: Voice): Float32Array {
  const { overtones, vibrato, breath = 0, off = 0, slide = 0 } = voice;
  const total = line.reduce((sum, [, seconds]) => sum + seconds, 0);
  const samples = new Float32Array(Math.ceil((total + 0.2) * RATE));
  const chance = noise();
  const sum = overtones.reduce((a, b) => a + b, 0);
  let [at, phase] = [0, 0];
  let before: number | null = null;
  for (const [midi, seconds] of line) {
    const count = Math.round(seconds * RATE);
    for (let i = 0; i < count; i += 1) {
      const t = i / RATE;
      let sound = 0;
      if (midi !== null) {
        const way = before !== null && t < slide ? t / slide : 1;
        const swing = vibrato ? vibrato.depth * Math.sin(2 * Math.PI * vibrato.rate * t) : 0;
        const pitch = (before ?? midi) * (1 - way) + midi * way + swing + off;
        phase += (2 * Math.PI * 440 * 2 ** ((pitch - 69) / 12)) / RATE;
        const fade = Math.min(1, t / 0.015, (seconds - t) / 0.015);
        overtones.forEach((loud, k) => (sound += (loud / sum) * Math.sin(phase * (k + 1))));
        sound = (sound + breath * chance()) * 0.5 * Math.max(0, fade);
      } else sound = 0.0005 * chance();
      samples[at + i] = sound;
    }
    at += count;
    before = midi;
  }
  return samples;
}

function heard(samples: Float32Array): number[] {
  const [reader, notes] = [new PitchReader(), new SungNotes()];
  const hop = Math.round((HOP / 1000) * RATE);
  for (let at = 0; at + WINDOW <= samples.length; at += hop) {
    const frame = reader.read(samples.subarray(at, at + WINDOW), RATE, (at + WINDOW) / RATE);
    notes.push(frame);
  }
  return notes.notes.map(({ midi }) => midi);
}

const BREAK: Sung = [null, 0.12];
/** NEW BRITAIN begins so, in G: D G B-G B A G E D (traditional; the lengths are its own at 80 quarters a minute). */
const TUNE = [62, 67, 71, 67, 71, 69, 67, 64, 62];
const LENGTHS = [0.75, 1.5, 0.375, 0.375, 1.5, 0.75, 1.5, 0.75, 1.5];
const up = (by: number): number[] => TUNE.map((midi) => midi + by);
const legato = (midis: readonly number[]): Sung[] =>
  midis.map((midi, i) => [midi, LENGTHS[i] ?? 1] as const);

// Loudness of the overtones is made up: a man's voice with a weak ground tone, a bright one, a child's almost pure.
const MAN = [0.4, 1, 0.8, 0.5, 0.4, 0.2];
const WOMAN = [1, 0.7, 0.4, 0.2];
const CHILD = [1, 0.15];

describe('A pitch', () => {
  it('of 440 Hz is A4, of 261.63 Hz C4 (ISO 16; equal temperament)', () => {
    expect(midiOfHz(440)).toBe(69);
    expect(midiOfHz(261.63)).toBeCloseTo(60, 2);
  });
});

describe('A sung tune is heard note for note', () => {
  it.each([
    ['a man, low', up(-19), { overtones: MAN }],
    ['a man, an octave below', up(-12), { overtones: MAN, breath: 0.05 }],
    ['a woman', up(0), { overtones: WOMAN }],
    ['a child', up(7), { overtones: CHILD }],
    ['a soprano, high', up(12), { overtones: WOMAN, vibrato: { depth: 0.4, rate: 6 } }],
    ['a bass with vibrato', up(-19), { overtones: MAN, vibrato: { depth: 0.4, rate: 5 } }],
    ['a woman with a wide vibrato', up(0), { overtones: WOMAN, vibrato: { depth: 0.6, rate: 6 } }],
    ['a woman in a noisy room', up(0), { overtones: WOMAN, breath: 0.12 }],
    ['someone 40 cents flat', up(-5), { overtones: WOMAN, off: -0.4 }],
    ['someone between two keys of the piano', up(-5), { overtones: WOMAN, off: 0.5 }],
    ['someone who slides', up(-5), { overtones: WOMAN, slide: 0.1 }],
  ] as const)('%s', (_, midis, voice) => {
    const found = heard(sing(legato(midis), voice));
    const [first = 0] = found;
    // The tune counts, not the key: someone between two keys is in neither.
    expect(found.map((midi) => midi - first)).toEqual(midis.map((midi) => midi - (midis[0] ?? 0)));
    expect(Math.abs(first - (midis[0] ?? 0))).toBeLessThanOrEqual(1);
  });

  it('repeated notes, parted by a short silence, are counted', () => {
    const line: Sung[] = [60, 60, 60, 62, 62].flatMap((midi) => [[midi, 0.4] as const, BREAK]);
    expect(heard(sing(line, { overtones: WOMAN }))).toEqual([60, 60, 60, 62, 62]);
  });

  it('half steps are told apart', () => {
    const line = [60, 61, 60, 59, 60].map((midi) => [midi, 0.35] as const);
    expect(heard(sing(line, { overtones: WOMAN }))).toEqual([60, 61, 60, 59, 60]);
  });

  it('a leap of an octave is one', () => {
    const line = [60, 72, 71, 67].map((midi) => [midi, 0.5] as const);
    expect(heard(sing(line, { overtones: WOMAN }))).toEqual([60, 72, 71, 67]);
  });
});

describe('What is no note', () => {
  it('is not heard: silence, noise, a click, a hum below every voice', () => {
    const chance = noise();
    const hiss = Float32Array.from({ length: RATE }, () => chance() * 0.4);
    const click = new Float32Array(RATE).fill(0.9, 20_000, 20_040);
    const hum = Float32Array.from(
      { length: RATE },
      (_, i) => 0.4 * Math.sin((2 * Math.PI * 50 * i) / RATE),
    );
    expect(heard(new Float32Array(RATE))).toEqual([]);
    expect(heard(hiss)).toEqual([]);
    expect(heard(click)).toEqual([]);
    expect(heard(hum)).toEqual([]);
  });
});

describe('Slips of the detector', () => {
  const push = (notes: SungNotes, midi: number | null, ms: number, from: number): number => {
    for (let t = 0; t < ms; t += 20) notes.push({ seconds: (from + t) / 1000, midi });
    return from + ms;
  };

  it('an octave that lasts a moment is none, in a note or at its beginning', () => {
    const notes = new SungNotes();
    let at = push(notes, 60, 400, 0);
    at = push(notes, 72, 120, at);
    at = push(notes, 60, 400, at);
    at = push(notes, null, 200, at);
    at = push(notes, 76, 140, at);
    push(notes, 64, 400, at);
    expect(notes.notes.map(({ midi }) => midi)).toEqual([60, 64]);
  });

  it('the note that sounds is told while it sounds', () => {
    const notes = new SungNotes();
    const at = push(notes, 60.2, 200, 0);
    expect(notes.sounding).toBe(60);
    push(notes, null, 200, at);
    expect(notes.sounding).toBeNull();
  });
});
