import { alterIn } from '../../pitch/key.ts';
import type { Letter } from '../../pitch/pitch.ts';

/**
 * What an unmarked note is altered by. ABC 2.1, section 11.3 (`propagate-accidentals`, default `pitch`): an accidental
 * holds to the end of the bar for its letter in every octave; a note held on by a tie keeps its own.
 */
export class Accidentals {
  #signature: number;
  #odd: ReadonlyMap<string, number>;
  #bar = new Map<string, { alter: number; octave: number }>();

  constructor(signature: number, odd: readonly (readonly [string, number])[] = []) {
    this.#signature = signature;
    this.#odd = new Map(odd);
  }

  newBar(): void {
    this.#bar.clear();
  }

  /** The alteration that holds for an unmarked note, and whether it was set in another octave of this bar. */
  held(letter: string, octave: number): { alter: number; fromOtherOctave: boolean } {
    const set = this.#bar.get(letter);
    if (set) {
      const usual = this.usual(letter);
      return { alter: set.alter, fromOtherOctave: set.octave !== octave && set.alter !== usual };
    }
    return { alter: this.usual(letter), fromOtherOctave: false };
  }

  set(letter: string, octave: number, alter: number): void {
    this.#bar.set(letter, { alter, octave });
  }

  usual(letter: string): number {
    return this.#odd.size > 0
      ? (this.#odd.get(letter) ?? 0)
      : alterIn(this.#signature, letter as Letter);
  }
}
