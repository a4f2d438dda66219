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

/**
 * The shapes of a service with one line of it as it is played now, and what somebody has met: for a screen on which that
 * line was just changed.
 * @param shapes as they were found for the whole service
 * @param now the line, called as the shapes call it, and its part
 */
export function withLine(
  shapes: readonly ShapeAhead[],
  now: PlayedPart,
  met: readonly KnownShape[],
): ShapeAhead[] {
  const found = new Map<string, ShapeAhead>();
  const signs = new Set(met.map(signOf));
  const others = shapes.map((shape) => ({
    ...shape,
    songs: shape.songs.filter((song) => song !== now.song),
  }));
  for (const shape of [...others, ...ahead([now], met)]) {
    const sign = signOf(shape);
    const songs = [...(found.get(sign)?.songs ?? []), ...shape.songs];
    found.set(sign, { ...shape, songs, known: signs.has(sign) });
  }
  return [...found.values()].filter(({ songs }) => songs.length > 0);
}

/** The same chord, notes and fingers are one shape. */
const signOf = ({ chord, notes, fingers }: Omit<KnownShape, 'songs'>): string =>
  JSON.stringify([chord, notes, fingers]);

/** The shapes of parts to come in the order they come, each once: the same chord, notes and fingers as one met before are known. */
export function ahead(parts: readonly PlayedPart[], met: readonly KnownShape[]): ShapeAhead[] {
  const before = new Set(met.map(signOf));
  const found = new Map<string, ShapeAhead>();
  for (const { song, part } of parts) {
    for (const { chord, notes, fingers } of part.shapes) {
      const said = sayChord(chord);
      const sign = signOf({ chord: said, notes, fingers });
      const songs = [...new Set([...(found.get(sign)?.songs ?? []), song])];
      found.set(sign, { chord: said, notes, fingers, songs, known: before.has(sign) });
    }
  }
  return [...found.values()];
}

/**
 * How many of the shapes to come somebody has played in services that are over, and which not yet. What else they can
 * play is not known, so no chord is called new.
 * @param whose `Joel`
 * @param where whose shapes they are: `Sunday`
 * @returns `Joel has played nine of Sunday’s eleven shapes here. Not played here yet: A♭ and F7.`; empty where there are none
 */
export function sayAhead(shapes: readonly ShapeAhead[], whose: string, where: string): string {
  const fresh = shapes.filter(({ known }) => !known);
  const [all, met] = [shapes.length, shapes.length - fresh.length];
  if (all === 0) return '';
  const of = `${where}’s ${all === 1 ? 'one shape' : `${numberWord(all)} shapes`}`;
  const has = `${whose} has`;
  if (fresh.length === 0) return `${has} played ${all === 1 ? of : `all of ${of}`} here.`;
  if (met === 0) return `${has} not played ${all === 1 ? of : `any of ${of}`} here yet.`;
  const names = [...new Set(fresh.map(({ chord }) => chord))];
  return `${has} played ${numberWord(met)} of ${of} here. Not played here yet: ${listed(names)}.`;
}
