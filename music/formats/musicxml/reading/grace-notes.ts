import type { PitchName } from '../../../pitch/pitch.ts';
import type { ReadNote } from './read-note.ts';
import { childrenOf, type XmlNode } from './tree.ts';

interface Waiting {
  readonly names: PitchName[];
  /** Numbers of the slurs that begin on them. */
  readonly slurs: Set<string>;
}

/** Grace notes of a part that wait for the note they lead to, voice by voice. */
export class GraceNotes {
  readonly #waiting = new Map<string, Waiting>();

  /** @param pitch null: it could not be read */
  add(node: XmlNode, voice: string, pitch: PitchName | null, joins: boolean): void {
    const graces = this.#waiting.get(voice) ?? { names: [], slurs: new Set<string>() };
    this.#waiting.set(voice, graces);
    if (pitch !== null) graces.names.push(pitch);
    if (joins) return;
    for (const notations of childrenOf(node, 'notations')) {
      for (const { attributes } of childrenOf(notations, 'slur')) {
        if (attributes['type'] === 'start') graces.slurs.add(attributes['number'] ?? '1');
      }
    }
  }

  /** Gives a note those that lead to it. */
  leadTo(note: ReadNote): void {
    const graces = this.#waiting.get(note.voice);
    if (!graces) return;
    note.grace.push(...graces.names);
    for (const number of graces.slurs) {
      const stop = note.slurStops.indexOf(number);
      if (stop >= 0) note.slurStops.splice(stop, 1);
    }
    this.#waiting.delete(note.voice);
  }

  /** Whether some lead to no note. */
  get areLeft(): boolean {
    return [...this.#waiting.values()].some(({ names }) => names.length > 0);
  }
}
