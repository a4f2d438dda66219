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

/** How good a choice of octaves is: less is better, first entries first. Semitones. */
export interface PlacesCost {
  /** By how much the widest way goes beyond a fifth. */
  readonly widest: number;
  /** By how much all ways together do. */
  readonly beyond: number;
  /** Sum of the places, each once, as sounding keys (C4 = 60): the deep strings carry. */
  readonly height: number;
  /** All ways from a note to the next, up and down alike. */
  readonly jumps: number;
}

/** As far as a hand in first position goes from string to string without looking: a fifth (ours). */
const EASY_WAY = 7;

export const comparePlaces = (a: PlacesCost, b: PlacesCost): number =>
  a.widest - b.widest || a.beyond - b.beyond || a.height - b.height || a.jumps - b.jumps;

/**
 * An octave for each note of a bass line: no way wider than a fifth where that can be, then as deep as can be, then with
 * the least jumps (common practice: the bass lies low, and roots lie beside each other on the neck). Every note keeps one
 * place wherever it comes back: what is found once on the neck need not be looked for again. A note below the lowest
 * string is played an octave up, never left out. Exact: every choice of octaves is tried, a branch left when its ways
 * pass the best. Of equal ones the one whose first notes are deeper.
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
  const place = (k: number, cost: PlacesCost): void => {
    // No further note makes any of these less.
    if (best && comparePlaces(cost, best.cost) >= 0) return;
    if (k === classes.length) {
      best = { cost, places: [...places] };
      return;
    }
    for (const midi of options[k] ?? []) {
      let { widest, beyond, jumps } = cost;
      for (const [other, times] of meetings[k] ?? []) {
        const far = Math.abs(midi - (places[other] ?? midi));
        const over = Math.max(0, far - EASY_WAY);
        widest = Math.max(widest, over);
        beyond += times * over;
        jumps += times * far;
      }
      places[k] = midi;
      place(k + 1, { widest, beyond, height: cost.height + midi, jumps });
    }
    places.length = k;
  };
  place(0, { widest: 0, beyond: 0, height: 0, jumps: 0 });
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
