import { midiOf, noteOf, type PitchName } from '../pitch/pitch.ts';
import { cheapestPath, type Places, type Way } from './best-path.ts';
import { OPEN_STRINGS, type NeckPlace } from './bass-places.ts';

/** A hand covers four frets, a finger each; in first position the first four (common practice). */
export const FRETS_IN_HAND = 4;
/** Higher places have the same notes an octave up (twelve frets to the octave). */
const HIGHEST_FRET = 12;

/** Where a note is played, and where the hand lies meanwhile. */
export interface HandPlace extends NeckPlace {
  /** The fret under the index finger: 1 in first position. */
  readonly position: number;
}

/** More than the strings that any line crosses, so that one number holds both later ranks. */
const HEIGHT = 1_000_000;

/** Every place of a pitch under a hand somewhere on the neck, position by position from the first; an open string is free in each. */
export function placesOf(pitch: PitchName, strings: 4 | 5): HandPlace[] {
  const places: HandPlace[] = [];
  for (let position = 1; position <= HIGHEST_FRET - FRETS_IN_HAND + 1; position += 1)
    for (const open of [...OPEN_STRINGS[strings]].reverse()) {
      const fret = midiOf(pitch) - midiOf(open);
      const isUnder = fret >= position && fret < position + FRETS_IN_HAND;
      if (fret === 0 || isUnder) places.push({ string: noteOf(open), fret, position });
    }
  return places;
}

/** How good a way along the neck is: less is better, first entries first. */
export interface NeckCost {
  /** Frets that the hand moves along the neck, up and down alike. */
  readonly shifted: number;
  /** Frets that the hand lies above first position, note by note. */
  readonly height: number;
  /** Strings that are crossed from note to note. */
  readonly crossed: number;
}

/**
 * A place for each note of a line with the least shifting of the hand, exact: dynamic programming over string, fret and
 * position. Of equal ways the one that lies nearer to first position, then the one that crosses fewer strings, then the
 * one with the lower position, then the higher string, at the first note where they differ.
 * @param line sounding pitches within the first twelve frets; throws on others
 */
export function placeHand(line: readonly PitchName[], strings: 4 | 5): HandPlace[] {
  const known = new Map<PitchName, HandPlace[]>();
  const all = line.map((pitch) => {
    const places = known.get(pitch) ?? placesOf(pitch, strings);
    if (places.length === 0) throw new RangeError(`${pitch} has no place on the neck`);
    known.set(pitch, places);
    return places;
  });
  const names = OPEN_STRINGS[strings].map(noteOf);
  const cached = new Map<string, Way>();
  const places: Places = {
    sizes: all.map(({ length }) => length),
    own: (place) => ({
      first: new Float64Array(all[place]?.length ?? 0),
      then: Float64Array.from(all[place] ?? [], ({ position }) => (position - 1) * HEIGHT),
    }),
    way: (place) => {
      const key = `${line[place]} ${line[place + 1]}`;
      const way = cached.get(key) ?? wayBetween(all[place] ?? [], all[place + 1] ?? [], names);
      cached.set(key, way);
      return way;
    },
  };
  return cheapestPath(places, false).map((choice, i) => all[i]?.[choice] as HandPlace);
}

function wayBetween(from: readonly HandPlace[], to: readonly HandPlace[], names: string[]): Way {
  const first = Float64Array.from(
    from.flatMap((a) => to.map((b) => Math.abs(b.position - a.position))),
  );
  const strings = (places: readonly HandPlace[]) =>
    places.map(({ string }) => names.indexOf(string));
  const [below, above] = [strings(from), strings(to)];
  return {
    first,
    at: 0,
    then: (a, b) => Math.abs((above[b] as number) - (below[a] as number)),
  };
}

/** What a way along the neck costs. */
export function neckCostOf(places: readonly HandPlace[], strings: 4 | 5): NeckCost {
  const names = OPEN_STRINGS[strings].map(noteOf);
  const height = places.reduce((sum, { position }) => sum + position - 1, 0);
  let [shifted, crossed] = [0, 0];
  places.slice(1).forEach((after, i) => {
    const before = places[i] as HandPlace;
    shifted += Math.abs(after.position - before.position);
    crossed += Math.abs(names.indexOf(after.string) - names.indexOf(before.string));
  });
  return { shifted, height, crossed };
}
