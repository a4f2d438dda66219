import { describe, expect, it } from 'vitest';
import { singVowel, type SungVowel, type Throat, type Vowel } from '#test/support/sung-vowels.ts';
import { HeldNote } from '#web/state/held-note.ts';
import { CLEAR_ENOUGH, HOP, PitchReader, WINDOW } from '#web/state/pitch-frames.ts';

const RATE = 44_100;
/** The question that the screen answers: how far beside the sung note may the shown one lie. */
const CENTS = 20;

/** Compass of each throat in this check, C4 = 60: E2–A4, F3–A5 and A3–A5, wider than what is asked of most. */
const COMPASS: Readonly<Record<Throat, readonly [number, number]>> = {
  man: [40, 69],
  woman: [53, 81],
  child: [57, 81],
};
const VOWELS: readonly Vowel[] = ['i', 'ɛ', 'ɑ', 'ɔ', 'u'];

const WAYS: readonly (readonly [string, Partial<SungVowel>])[] = [
  ['straight', {}],
  // Rate and extent of singers' vibrato: 5 to 6 a second, half a semitone to a whole one to each side (Seashore 1932).
  ['with vibrato of 50 cents, 5 a second', { vibrato: { cents: 50, rate: 5 } }],
  ['with vibrato of 100 cents, 6 a second', { vibrato: { cents: 100, rate: 6 } }],
  ['in noise 10 dB below', { noiseDb: 10 }],
  ['with vibrato in noise 10 dB below', { vibrato: { cents: 70, rate: 5.5 }, noiseDb: 10 }],
];

/** What the screen shows while a note is sung, look by look, in semitones; the first quarter second may be silent. */
function shown(sung: SungVowel): number[] {
  const samples = singVowel(sung, RATE);
  const [reader, held] = [new PitchReader(CLEAR_ENOUGH), new HeldNote()];
  const found: number[] = [];
  const hop = Math.round((HOP / 1000) * RATE);
  for (let at = 0; at + WINDOW <= samples.length; at += hop) {
    const seconds = (at + WINDOW) / RATE;
    held.push(reader.read(samples.subarray(at, at + WINDOW), RATE, seconds));
    if (held.midi !== null) found.push(held.midi);
  }
  return found;
}

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

describe('The pitch of a sung vowel whose pitch is known', () => {
  for (const throat of ['man', 'woman', 'child'] as const) {
    it.each(WAYS)(
      `of a ${throat}, %s: within ${CENTS} cents, and never an octave off`,
      (_, way) => {
        const [low, high] = COMPASS[throat];
        const wrong: string[] = [];
        let worst = 0;
        for (let midi = low; midi <= high; midi += 1) {
          // Each vowel on every third note; all of them on all notes are as good, and take three times as long.
          for (const vowel of VOWELS.filter((_, i) => (i + midi) % 3 === 0)) {
            const found = shown({ throat, vowel, midi, seconds: 1, ...way });
            const note = `${vowel} on ${midi}`;
            // Once the vibrato has swung a few times; before that the note may lie on one side of it.
            const settled = found.slice(-Math.floor(found.length / 2));
            const off = settled.map((each) => 100 * (each - midi));
            const far = Math.max(...off.map(Math.abs));
            worst = Math.max(worst, far);
            if (found.length < 20) wrong.push(`${note}: hardly heard, ${found.length}`);
            if (far > CENTS)
              wrong.push(`${note}: ${median(off).toFixed(0)}, worst ${far.toFixed(0)}`);
            if (found.some((each) => Math.abs(each - midi) > 6)) wrong.push(`${note}: far off`);
          }
        }
        expect(wrong).toEqual([]);
        expect(worst).toBeLessThanOrEqual(CENTS);
      },
    );
  }
});
