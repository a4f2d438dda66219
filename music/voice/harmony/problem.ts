import { tonesOf } from '../../pitch/chord-symbol.ts';
import { scaleOf } from '../../pitch/key.ts';
import { midiOf, pitchClassOf, type NoteName, type PitchName } from '../../pitch/pitch.ts';
import type { Score, Section, Ticks } from '../../score/score.ts';
import { barAt, feltBeat, keyAt, meterAt, type SoundingNote } from '../../score/time.ts';
import type { Octave, Singer } from '../range.ts';
import { ownCosts, wayCosts, type HarmonyItem, type Side, type TuneNote } from './costs.ts';

export interface HarmonyOptions {
  /** How the tune is sung by whoever leads; missing: as it is written. */
  readonly tune?: Octave;
  /** Missing: below or above, whichever costs less, of equals below. */
  readonly side?: Side;
  /** Ids of the sections that are sung in two parts; in the others the tune is sung along. Missing: all. */
  readonly split?: readonly string[];
}

export interface Candidate {
  readonly pitch: PitchName;
  readonly midi: number;
}

/** For each note of the tune the notes that may be sung with it, and what they cost. */
export interface HarmonyProblem {
  readonly choices: readonly (readonly Candidate[])[];
  readonly own: (place: number, choice: Candidate) => HarmonyItem[];
  /** From a note at a place to one at the next. */
  readonly way: (place: number, from: Candidate, to: Candidate) => HarmonyItem[];
  /** Half steps, C4 = 60. */
  readonly range: { readonly low: number; readonly high: number };
}

export function problemOn(
  side: Side,
  score: Score,
  sung: readonly SoundingNote[],
  singer: Singer,
  { tune = 'as written', split }: HarmonyOptions,
): HarmonyProblem {
  const down = tune === 'octave below' ? 12 : 0;
  const range = { low: midiOf(singer.comfortable.low), high: midiOf(singer.comfortable.high) };
  const notes = sung.map((note, i) => tuneNote(score, note, sung[i - 1], down));
  const isSplit = sung.map(({ at }): boolean => {
    const section = sectionAt(score, at);
    return (
      split === undefined || (section !== undefined && split.includes(section.copyOf ?? section.id))
    );
  });
  return {
    choices: sung.map((note, i) =>
      isSplit[i] ? candidatesAt(score, note, singer) : [along(note, range)],
    ),
    own: (place, { midi }) =>
      isSplit[place] ? ownCosts(midi, notes[place] as TuneNote, side, range) : [],
    way: (place, from, to) =>
      isSplit[place + 1]
        ? wayCosts(from.midi, to.midi, notes[place] as TuneNote, notes[place + 1] as TuneNote)
        : [],
    range,
  };
}

function tuneNote(
  score: Score,
  { at, length, pitch }: SoundingNote,
  before: SoundingNote | undefined,
  down: number,
): TuneNote {
  const beat = feltBeat(meterAt(score, at));
  const bar = barAt(score, at);
  const chords = score.chords
    .filter((each) => each.at < at + length && each.at + each.length > at)
    .flatMap(({ chord }) =>
      chord && chord.kind !== 'none' ? [new Set(tonesOf(chord).map(pitchClassOf))] : [],
    );
  const isAfterRest =
    before === undefined ||
    before.at + before.length < at ||
    sectionAt(score, before.at) !== sectionAt(score, at);
  return {
    midi: midiOf(pitch) - down,
    isStrong: (at - bar.at) % beat === 0 || length >= beat,
    chords,
    isAfterRest,
  };
}

function sectionAt({ sections }: Score, at: Ticks): Section | undefined {
  return sections.find(({ from, to }) => at >= from && at < to);
}

/** Notes of the scale and of the chords in the range, the furthest notes counted in where they are known, from below up. */
function candidatesAt(score: Score, { at, length }: SoundingNote, singer: Singer): Candidate[] {
  const { low, high } = singer.limit ?? singer.comfortable;
  const names = new Map<number, NoteName>();
  for (const name of scaleOf(keyAt(score, at).key)) names.set(pitchClassOf(name), name);
  for (const each of score.chords) {
    if (
      !each.chord ||
      each.chord.kind === 'none' ||
      each.at >= at + length ||
      each.at + each.length <= at
    )
      continue;
    // A chord spells its notes as the harmony means them.
    for (const name of tonesOf(each.chord)) names.set(pitchClassOf(name), name);
  }
  const found: Candidate[] = [];
  for (let midi = midiOf(low); midi <= midiOf(high); midi++) {
    const name = names.get(midi % 12);
    if (name !== undefined) found.push({ pitch: named(name, midi), midi });
  }
  return found;
}

/** The tune sung along, in the octave that lies nearest to the middle of the range. */
function along(
  { pitch }: SoundingNote,
  range: { readonly low: number; readonly high: number },
): Candidate {
  const written = midiOf(pitch);
  const middle = (range.low + range.high) / 2;
  const octaves = Math.round((middle - written) / 12);
  const midi = written + 12 * Math.min(0, octaves);
  return { pitch: named(pitch.replace(/-?\d+$/, ''), midi), midi };
}

/** The octave is that of the letter: B♯3 sounds as C4. */
function named(name: NoteName, midi: number): PitchName {
  for (const octave of [
    Math.floor(midi / 12) - 1,
    Math.floor(midi / 12) - 2,
    Math.floor(midi / 12),
  ]) {
    const pitch = `${name}${octave}`;
    if (midiOf(pitch) === midi) return pitch;
  }
  throw new RangeError(`${name} does not sound at ${midi}`);
}
