import { tonesOf } from '../../pitch/chord-symbol.ts';
import { scaleOf } from '../../pitch/key.ts';
import { midiOf, pitchClassOf, type NoteName, type PitchName } from '../../pitch/pitch.ts';
import type { Score, Section, Ticks, Voice } from '../../score/score.ts';
import { barAt, feltBeat, keyAt, meterAt, noteAt, type SoundingNote } from '../../score/time.ts';
import type { Octave, Singer } from '../range.ts';
import { octaveAlong, type Reach } from './along.ts';
import { itemsOf, payOwn, payWay, sumOf, type HarmonyItem, type Pay, type Side, type TuneNote } from './costs.ts'; // prettier-ignore

export interface HarmonyOptions {
  /** How the tune is sung by whoever leads; missing: as it is written. */
  readonly tune?: Octave;
  /** Missing: below or above, whichever costs less, of equals below. */
  readonly side?: Side;
  /** Ids of the sections that are sung in two parts; in the others the tune is sung along. Missing: all. */
  readonly split?: readonly string[];
  /** Lines that others sing beside the tune, as they sound: this one keeps out of their way. Missing: none. */
  readonly others?: readonly Voice[];
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
  /** Their points, without items. */
  readonly ownPoints: (place: number, choice: Candidate) => number;
  readonly wayPoints: (place: number, from: Candidate, to: Candidate) => number;
  /** Whether the tune is sung along at a place. */
  readonly isAlong: (place: number) => boolean;
  /** Half steps, C4 = 60. */
  readonly range: Reach;
}

export function problemOn(
  side: Side,
  score: Score,
  sung: readonly SoundingNote[],
  singer: Singer,
  { tune = 'as written', split, others = [] }: HarmonyOptions,
): HarmonyProblem {
  const down = tune === 'octave below' ? 12 : 0;
  const range = { low: midiOf(singer.comfortable.low), high: midiOf(singer.comfortable.high) };
  const notes = sung.map((note, i) => tuneNote(score, note, sung[i - 1], down, others));
  const isSplit = sung.map(({ at }): boolean => {
    const section = sectionAt(score, at);
    if (split === undefined) return true;
    return [section?.id, section?.copyOf].some((id) => id !== undefined && split.includes(id));
  });
  const unison = sung.flatMap(({ pitch, length }, i) =>
    isSplit[i] ? [] : [{ midi: midiOf(pitch), length }],
  );
  const octave = octaveAlong(unison, range);
  const ownAt = (pay: Pay, place: number, { midi }: Candidate) => {
    const here = notes[place];
    if (here && isSplit[place]) payOwn(pay, midi, here, side, range);
  };
  const wayAt = (pay: Pay, place: number, from: Candidate, to: Candidate) => {
    const [here, next] = [notes[place], notes[place + 1]];
    if (here && next && isSplit[place + 1]) payWay(pay, from.midi, to.midi, here, next);
  };
  return {
    choices: sung.map((note, i) =>
      isSplit[i] ? candidatesAt(score, note, singer) : [along(note, octave)],
    ),
    own: (place, choice) => itemsOf((pay) => ownAt(pay, place, choice)),
    way: (place, from, to) => itemsOf((pay) => wayAt(pay, place, from, to)),
    ownPoints: (place, choice) => sumOf((pay) => ownAt(pay, place, choice)),
    wayPoints: (place, from, to) => sumOf((pay) => wayAt(pay, place, from, to)),
    isAlong: (place) => isSplit[place] === false,
    range,
  };
}

function tuneNote(
  score: Score,
  { at, length, pitch }: SoundingNote,
  before: SoundingNote | undefined,
  down: number,
  others: readonly Voice[],
): TuneNote {
  const beat = feltBeat(meterAt(score, at));
  const bar = barAt(score, at);
  const chords = score.chords
    .filter((each) => each.at < at + length && each.at + each.length > at)
    .flatMap(({ chord }) =>
      chord && chord.kind !== 'none' ? [new Set(tonesOf(chord).map(pitchClassOf))] : [],
    );
  const isAfterRest = before === undefined || before.at + before.length < at;
  return {
    midi: midiOf(pitch) - down,
    isStrong: (at - bar.at) % beat === 0 || length >= beat,
    chords,
    isAfterRest,
    others: others.map((voice) => {
      const sounds = noteAt(voice, at)?.pitches.at(-1);
      return sounds === undefined ? null : midiOf(sounds);
    }),
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

/** The tune sung along, so many half steps from where it is written: no other octave, so that its phrases stay whole. */
function along({ pitch }: SoundingNote, octave: number): Candidate {
  const midi = midiOf(pitch) + octave;
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
