import {
  noteOf,
  midiOf,
  parsePitch,
  pitchClassOf,
  type NoteName,
  type PitchName,
} from '../pitch/pitch.ts';
import { ENGLISH, type Says } from '../pitch/says.ts';

/** Open strings from the lowest, as they sound: standard tuning in fourths (Wikipedia, Bass guitar tuning). */
export const OPEN_STRINGS: Readonly<Record<4 | 5, readonly PitchName[]>> = {
  4: ['E1', 'A1', 'D2', 'G2'],
  5: ['B0', 'E1', 'A1', 'D2', 'G2'],
};
/** First position: four fingers on the first four frets, so that no hand moves along the neck (common practice). */
const HIGHEST_FRET = 4;

/** Where a note lies on the neck in first position; each note has one place there. */
export interface NeckPlace {
  /** `E`, `A`: the open note of the string. */
  readonly string: NoteName;
  /** 0: the open string. */
  readonly fret: number;
}

/** The place of a sounding pitch; null outside first position. */
export function neckPlaceOf(pitch: PitchName, strings: 4 | 5): NeckPlace | null {
  const midi = midiOf(pitch);
  // The higher string first: an open string rather than the fifth fret below it.
  for (const open of [...OPEN_STRINGS[strings]].reverse()) {
    const fret = midi - midiOf(open);
    if (fret >= 0) return fret <= HIGHEST_FRET ? { string: noteOf(open), fret } : null;
  }
  return null;
}

/** `open D string`, `E string, fret 3`. */
export function sayNeckPlace({ string: open, fret }: NeckPlace, says: Says = ENGLISH): string {
  const string = says.note(open);
  return fret === 0 ? `open ${string} string` : `${string} string, fret ${fret}`;
}

/** Every octave of a note in first position, the lowest first. At least one. */
function octavesOf(note: NoteName, strings: 4 | 5): PitchName[] {
  return [0, 1, 2, 3]
    .map((octave) => `${note}${octave}`)
    .filter((pitch) => parsePitch(pitch) !== null && neckPlaceOf(pitch, strings) !== null);
}

/** How good a choice of octaves is: less is better, first entries first. */
export interface PlacesCost {
  /** Semitones of all ways from a note to the next, up and down alike. */
  readonly jumps: number;
  /** Sum of the places, each once: deeper is better. */
  readonly height: number;
}

/**
 * An octave for each note of a bass line, so that all jumps together are least. Every note keeps one place wherever
 * it comes back: what is found once on the neck need not be looked for again (common practice for a first rung). A note
 * below the lowest string is played an octave up, never left out. Exact: every choice of octaves is tried, a branch
 * left when its jumps pass the best. Of equal ones the deeper, then the one whose first notes are deeper.
 * @param line the notes in the order of the page
 */
export function placeBass(line: readonly NoteName[], strings: 4 | 5): PitchName[] {
  const classes = [...new Set(line.map(pitchClassOf))];
  const order = line.map((note) => classes.indexOf(pitchClassOf(note)));
  const options = classes.map((_, k) => {
    const note = line[order.indexOf(k)] as NoteName;
    return octavesOf(note, strings).map(midiOf);
  });
  // How often two notes follow one another, whichever way; kept with the later of the two.
  const meetings = classes.map(() => new Map<number, number>());
  order.forEach((here, i) => {
    const next = order[i + 1];
    if (next === undefined || next === here) return;
    const [first, second] = here < next ? [here, next] : [next, here];
    const counts = meetings[second];
    counts?.set(first, (counts.get(first) ?? 0) + 1);
  });
  let best: { cost: PlacesCost; places: readonly number[] } | null = null;
  const places: number[] = [];
  const place = (k: number, jumps: number, height: number): void => {
    if (
      best &&
      (jumps > best.cost.jumps ||
        (jumps === best.cost.jumps && k === classes.length && height >= best.cost.height))
    )
      return;
    if (k === classes.length) {
      best = { cost: { jumps, height }, places: [...places] };
      return;
    }
    for (const midi of options[k] ?? []) {
      let more = 0;
      for (const [other, times] of meetings[k] ?? [])
        more += times * Math.abs(midi - (places[other] ?? midi));
      places[k] = midi;
      place(k + 1, jumps + more, height + midi);
    }
    places.length = k;
  };
  place(0, 0, 0);
  const chosen = (best as { places: readonly number[] } | null)?.places ?? [];
  return line.map((note, i) => {
    const midi = chosen[order[i] as number];
    const found = [0, 1, 2, 3]
      .map((octave) => `${note}${octave}`)
      .find((pitch) => midiOf(pitch) === midi);
    if (found === undefined) throw new RangeError(`${note} has no place on the neck`);
    return found;
  });
}
