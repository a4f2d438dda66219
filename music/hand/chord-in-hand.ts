import type { Chord } from '../pitch/chord.ts';
import { tonesOf } from '../pitch/chord-symbol.ts';
import { LETTERS, pitchClassOf, type Letter, type NoteName } from '../pitch/pitch.ts';

/**
 * As many notes as a hand holds without crowding; a fifth finger is free to lead (common practice).
 */
export const MOST_NOTES = 4;

/**
 * The tones of a chord that one hand takes, each once, spelled, root first. A slash bass that is
 * not a chord tone is the other hand's. A chord of more than `most` tones leaves out, in this order
 * (common practice):
 * 1. the perfect fifth;
 * 2. where an eleventh stands over a major third: in an eleventh chord the third, in a thirteenth
 *    chord the eleventh;
 * 3. the tone that the left hand plays anyway: the slash bass, else the root;
 * 4. the ninth, the root, the eleventh, any other fifth; the third, the seventh and the highest
 *    tone stay longest.
 */
export function tonesInHand(chord: Chord, most = MOST_NOTES): NoteName[] {
  const tones = eachOnce(tonesOf(chord)).map((note) => ({ note, ...placeAbove(chord.root, note) }));
  const left = [...tones];
  for (const mayGo of orderOfLeaving(chord, tones)) {
    if (left.length <= most) break;
    const found = left.findIndex(mayGo);
    if (found >= 0) left.splice(found, 1);
  }
  return left.slice(0, Math.max(most, 0)).map((tone) => tone.note);
}

interface Tone {
  readonly note: NoteName;
  /**
   * Letters above the root, 0–6: 1 is the second or ninth, 3 the fourth or eleventh, 5 the sixth or
   * thirteenth.
   */
  readonly letters: number;
  /** Semitones above the root, 0–11. */
  readonly semitones: number;
}

function orderOfLeaving(chord: Chord, tones: readonly Tone[]): ((tone: Tone) => boolean)[] {
  const bass = chord.bass ?? chord.root;
  const elevenOverMajorThird =
    tones.some((tone) => tone.semitones === 4) && tones.some((tone) => tone.semitones === 5);
  const thirteenth = tones.some((tone) => tone.letters === 5);
  const isRoot = (tone: Tone) => tone.letters === 0;
  return [
    (tone) => tone.semitones === 7,
    (tone) => elevenOverMajorThird && tone.semitones === (thirteenth ? 5 : 4),
    (tone) => pitchClassOf(tone.note) === pitchClassOf(bass),
    (tone) => tone.letters === 1,
    isRoot,
    (tone) => tone.letters === 3,
    (tone) => tone.letters === 4,
    (tone) => tone.letters === 1,
  ];
}

function eachOnce(notes: readonly NoteName[]): NoteName[] {
  const seen = new Set<number>();
  return notes.filter((note) => {
    const key = pitchClassOf(note);
    return seen.has(key) ? false : seen.add(key);
  });
}

function placeAbove(root: NoteName, note: NoteName) {
  const letter = (name: NoteName) => LETTERS.indexOf(name.charAt(0) as Letter);
  return {
    letters: (letter(note) - letter(root) + 7) % 7,
    semitones: (pitchClassOf(note) - pitchClassOf(root) + 12) % 12,
  };
}
