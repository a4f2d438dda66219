import { say as sayChord } from '../pitch/chord-symbol.ts';
import type { KnownShape } from '../parts/known-shape.ts';
import type { Part } from '../parts/part.ts';
import { listed, numberWord } from '../score/number-words.ts';

export type { KnownShape } from '../parts/known-shape.ts';

/** A part that a person has played, and of which song. */
export interface PlayedPart {
  readonly song: string;
  readonly part: Pick<Part, 'shapes'>;
}

/** The shapes that a person has met: the same chord, notes and fingers are one; those of most songs first, then as met. */
export function of(parts: readonly PlayedPart[]): KnownShape[] {
  const met = new Map<string, { shape: Omit<KnownShape, 'songs'>; songs: Set<string> }>();
  for (const { song, part } of parts) {
    for (const { chord, notes, fingers } of part.shapes) {
      const shape = { chord: sayChord(chord), notes, fingers };
      const sign = JSON.stringify(shape);
      const before = met.get(sign);
      if (before) before.songs.add(song);
      else met.set(sign, { shape, songs: new Set([song]) });
    }
  }
  return [...met.values()]
    .map(({ shape, songs }) => ({ ...shape, songs: songs.size }))
    .sort((a, b) => b.songs - a.songs);
}

/** A shape of songs to come, and whether it was met before. */
export interface ShapeAhead extends Omit<KnownShape, 'songs'> {
  /** The songs that have it, as the parts name them. */
  readonly songs: readonly string[];
  readonly known: boolean;
}

/** The shapes of parts to come in the order they come, each once: the same chord, notes and fingers as one met before are known. */
export function ahead(parts: readonly PlayedPart[], met: readonly KnownShape[]): ShapeAhead[] {
  const before = new Set(met.map(({ chord, notes, fingers }) => JSON.stringify([chord, notes, fingers]))); // prettier-ignore
  const found = new Map<string, ShapeAhead>();
  for (const { song, part } of parts) {
    for (const { chord, notes, fingers } of part.shapes) {
      const said = sayChord(chord);
      const sign = JSON.stringify([said, notes, fingers]);
      const songs = [...new Set([...(found.get(sign)?.songs ?? []), song])];
      found.set(sign, { chord: said, notes, fingers, songs, known: before.has(sign) });
    }
  }
  return [...found.values()];
}

/**
 * How many of the shapes to come somebody has met, and which are new.
 * @param whose `Joel`
 * @param where whose shapes they are: `Sunday`
 * @returns `Joel knows nine of Sunday’s eleven shapes. New: A♭, F7.`; empty where there are none
 */
export function sayAhead(shapes: readonly ShapeAhead[], whose: string, where: string): string {
  const fresh = shapes.filter(({ known }) => !known);
  const [all, met] = [shapes.length, shapes.length - fresh.length];
  if (all === 0) return '';
  const of = `${where}’s ${all === 1 ? 'one shape' : `${numberWord(all)} shapes`}`;
  if (fresh.length === 0) return `${whose} knows ${all === 1 ? of : `all of ${of}`}.`;
  if (met === 0)
    return all === 1 ? `${of} is new to ${whose}.` : `All of ${of} are new to ${whose}.`;
  const names = [...new Set(fresh.map(({ chord }) => chord))];
  return `${whose} knows ${numberWord(met)} of ${of}. New: ${listed(names)}.`;
}
