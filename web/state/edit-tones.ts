import {
  ChordSymbol,
  Pitches,
  Tempos,
  Time,
  type Chord,
  type PitchName,
  type Score,
  type Tempo,
  type Ticks,
} from '#music';
import { chordPlaces } from './edit-beats.ts';

/** A note as it is played. */
export interface Tone {
  /** Seconds from where one began. */
  readonly from: number;
  readonly to: number;
  readonly pitch: PitchName;
  /** Loudness, 0–1. */
  readonly level: number;
}

/** Where the cursor is, from when on. */
export interface CursorStep {
  readonly from: number;
  readonly at: Ticks;
}

/** What sounds from a place to the end, as it is written, once through. */
export interface Played {
  readonly tones: readonly Tone[];
  readonly steps: readonly CursorStep[];
  /** Seconds. */
  readonly length: number;
}

/** Felt beats a minute where the song says no tempo (ours). */
const UNSAID = 72;
/** One line is heard well; more share it. Chords stay behind the tune (ours). */
const [LINE, CHORD] = [0.8, 0.3];

function unsaid(score: Score): Tempo {
  return { beat: Time.feltBeat(Time.meterAt(score, 0)), perMinute: UNSAID };
}

/** The tones of a chord from its root up, each over the one before; the root in the octave under middle C. */
export function chordPitches(chord: Chord): PitchName[] {
  let last = Pitches.midiOf('B2');
  return ChordSymbol.tonesOf(chord).map((name) => {
    let octave = 2;
    while (Pitches.midiOf(`${name}${octave}`) <= last) octave += 1;
    last = Pitches.midiOf(`${name}${octave}`);
    return `${name}${octave}`;
  });
}

/** Every voice as it sounds; beside one voice alone also the chords that are written, softly. */
export function playedFrom(score: Score, from: Ticks): Played {
  const timed = score.tempo ? score : { ...score, tempo: unsaid(score) };
  const seconds = (at: Ticks): number => Tempos.secondsBetween(timed, { from, to: at }) ?? 0;
  const end = Time.endOf(score);
  const lines = score.voices.map(Time.soundingNotes).filter((notes) => notes.length > 0);
  const level = LINE / Math.sqrt(Math.max(1, lines.length));
  const sung = lines.flat().map((note) => ({ ...note, level }));
  const chords = lines.length > 1 ? [] : score.chords;
  const strummed = chords.flatMap(({ at, length, chord, guess }) =>
    chord && !guess && chord.kind !== 'none'
      ? chordPitches(chord).map((pitch) => ({ at, length, pitch, level: CHORD }))
      : [],
  );
  const tones = [...sung, ...strummed]
    .filter(({ at, length }) => at + length > from)
    .map(({ at, length, pitch, level: loud }) => ({
      from: seconds(Math.max(from, at)),
      to: seconds(Math.min(end, at + length)),
      pitch,
      level: loud,
    }))
    .sort((a, b) => a.from - b.from);
  const places = new Set(score.bars.flatMap((_, bar) => chordPlaces(score, bar, 'half')));
  const steps = [...places]
    .filter((at) => at >= from)
    .sort((a, b) => a - b)
    .map((at) => ({ from: seconds(at), at }));
  return { tones, steps, length: seconds(end) };
}
