import type { PitchName } from '../../pitch/pitch.ts';
import { KNOWN, NAVIGATION } from './decorations.ts';
import type { Layer, ReadNote } from './layer.ts';
import { quoted, type At, type Report } from '../report.ts';

/** What stands before a note and waits for it: signs, fingers and grace notes. */
export class Pending {
  readonly #report: Report;
  readonly #known: ReadonlySet<string>;
  #signs: ({ name: string } & At)[] = [];
  #grace: PitchName[] = [];
  #graceAt: At | null = null;

  /** @param known decorations that the file defines itself */
  constructor(known: ReadonlySet<string>, report: Report) {
    this.#known = known;
    this.#report = report;
  }

  sign(name: string, at: At): void {
    this.#signs.push({ name, ...at });
  }

  /** A decoration by its name. */
  decoration(name: string, at: At): void {
    if (name === 'nil' || name === 'nothing') return;
    if (!this.#known.has(name) && !KNOWN.has(name)) {
      const words = `The sign !${name}! is not known; it is kept as it is.`;
      this.#report.warn('sign-unknown', words, at);
    }
    if (NAVIGATION.has(name)) {
      const words = `The sign !${name}! is kept, but the order of playing does not follow it.`;
      this.#report.warn('navigation-not-followed', words, at);
    }
    this.sign(name, at);
  }

  grace(pitch: PitchName, at: At): void {
    this.#grace.push(pitch);
    this.#graceAt = at;
  }

  /** Signs that stood before a note become its fermata, fingers and other signs. */
  dress(note: ReadNote): void {
    note.grace = this.#grace;
    this.#grace = [];
    const digits = this.#signs.filter(({ name }) => /^[1-5]$/.test(name));
    const fingered = digits.length > 0 && digits.length === note.pitches.length;
    for (const { name, ...at } of this.#signs) {
      const finger = /^[1-5]$/.test(name);
      if (name === 'fermata') note.fermata = true;
      else if (finger && fingered) note.fingers.push(Number(name));
      else note.signs.push(name);
      if (finger && !fingered) {
        const words =
          'The fingers before this note do not match its notes in number; they stay as signs.';
        this.#report.warn('fingers-do-not-match', words, at);
      }
    }
    this.#signs = [];
  }

  /** Signs before a bar line belong to no note: they stay on the last one. */
  endSigns(layer: Layer): void {
    const { last } = layer;
    for (const { name, ...at } of this.#signs) {
      if (last && name === 'fermata') last.fermata = true;
      else last?.signs.push(name);
      const words = last
        ? `The sign ${quoted(name)} stands at a bar line; it is kept on the note before.`
        : `The sign ${quoted(name)} belongs to no note.`;
      this.#report.warn('sign-without-note', words, at);
    }
    this.#signs = [];
  }

  endGrace(): void {
    if (this.#grace.length > 0 && this.#graceAt) {
      const words = `The grace notes ${this.#grace.slice(0, 8).join(' ')} lead to no note and are left out.`;
      this.#report.warn('grace-without-note', words, this.#graceAt);
    }
    this.#grace = [];
  }
}
