import { placeBass } from '../hand/bass-places.ts';
import { tonesOf } from '../pitch/chord-symbol.ts';
import { midiOf, noteOf, type NoteName, type PitchName } from '../pitch/pitch.ts';
import type { Note, Score, Span } from '../score/score.ts';
import { keyAt } from '../score/time.ts';
import { bassOf, heldUnder, type Footing } from './bass-pedal.ts';
import { slotsOf, type Slot } from './bass-slots.ts';
import type { BassSong } from './bass-song.ts';
import {
  approachTo,
  fifthOf,
  FIRST_POSITION_TOP,
  halfStepBeside,
  lowestOf,
  nearest,
  octavesIn,
  scaleUnder,
  WALKING_TOP,
  type Register,
} from './bass-tones.ts';
import { leastLine, type Candidate, type Step } from './bass-walk.ts';
import type { PlayedChord } from './played-chords.ts';

/** One note of the bass, under which chord it is struck and what it is there. */
export interface BassNote extends Slot {
  readonly pitch: PitchName;
}

/** The whole line, in order; rests lie between. */
export interface BassLine {
  readonly notes: readonly BassNote[];
  readonly footings: readonly Footing[];
}

/** The line of a bass in its modes (see `BassMode`). */
export function bassLine(song: BassSong): BassLine {
  const { score, chords } = song;
  const canHold = (i: number) => {
    const at = chords[i]?.at;
    return at !== undefined && song.modeAt(at) === 'held';
  };
  const footings = heldUnder(score, chords, canHold);
  const settled = placeBass(
    footings.map(({ note }) => note),
    song.strings,
  );
  const slots = slotsOf(song, footings);
  const pitches = leastLine(stepsOf(song, slots, footings, settled));
  const notes = slots.map((slot, i): BassNote => ({ ...slot, pitch: pitches[i] ?? '' }));
  return { notes: joined(score, notes), footings };
}

/** A note that stays under a new chord is one with the note before it, up to the bar line. */
function joined({ bars }: Score, notes: readonly BassNote[]): BassNote[] {
  const starts = new Set(bars.map(({ at }) => at));
  const all: BassNote[] = [];
  for (const note of notes) {
    const before = all.at(-1);
    const stays = note.role === 'stays' && before?.to === note.from && !starts.has(note.from);
    if (stays) all[all.length - 1] = { ...before, to: note.to };
    else all.push(note);
  }
  return all;
}

function stepsOf(
  song: BassSong,
  slots: readonly Slot[],
  footings: readonly Footing[],
  settled: readonly PitchName[],
): Step[] {
  const low = lowestOf(song.strings);
  const first = { low, high: FIRST_POSITION_TOP };
  const wide = { low, high: WALKING_TOP };
  const steps: Step[] = [];
  // What a note outside the walking lines is: one pitch, known as the line goes on.
  let before: PitchName = settled[0] ?? '';
  for (const { from, chord, role } of slots) {
    const entry = song.chords[chord] as PlayedChord;
    const { note } = footings[chord] as Footing;
    if (song.modeAt(from) === 'walking') {
      steps.push({ role, candidates: walkingChoices(song, chord, role, note, wide) });
      continue;
    }
    const place = settled[chord] as PitchName;
    const { key } = keyAt(song.score, from);
    if (role === 'fifth') before = fifthBy(entry, place, first);
    else if (role === 'approach')
      before =
        approachTo(settled[chord + 1] ?? place, place, before, entry.chord, key, first) ?? before;
    else before = place;
    steps.push({ role: 'bass', candidates: [{ pitch: before, tone: 'bass' }] });
  }
  return steps;
}

function fifthBy({ chord }: PlayedChord, place: PitchName, register: Register): PitchName {
  const fifth = fifthOf(chord);
  return (fifth !== null && nearest(fifth, place, register)) || place;
}

function walkingChoices(
  { score, chords }: BassSong,
  index: number,
  role: Slot['role'],
  note: NoteName,
  register: Register,
): Candidate[] {
  const { at, chord } = chords[index] as PlayedChord;
  const { key } = keyAt(score, at);
  const choices = new Map<number, Candidate>();
  const add = (name: NoteName, tone: Candidate['tone']): void => {
    for (const pitch of octavesIn(name, register))
      if (!choices.has(midiOf(pitch))) choices.set(midiOf(pitch), { pitch, tone });
  };
  add(note, 'bass');
  if (role !== 'strong' && role !== 'weak' && role !== 'leading') return [...choices.values()];
  const fifth = fifthOf(chord);
  if (fifth !== null) add(fifth, 'fifth');
  for (const tone of tonesOf(chord)) add(tone, 'chord');
  if (role === 'strong') return [...choices.values()];
  for (const each of scaleUnder(chord, key)) add(each, 'scale');
  const next = chords[index + 1];
  if (role === 'leading' && next)
    for (const target of octavesIn(bassOf(next), register))
      for (const side of [-1, 1] as const)
        add(noteOf(halfStepBeside(target, side, key)), 'chromatic');
  return [...choices.values()];
}

/** The notes of a voice: every bar full, rests between. */
export function asVoice(
  { bars }: Score,
  notes: readonly (Span & { readonly pitch: PitchName })[],
): Note[] {
  const voice: Note[] = [];
  let next = 0;
  for (const bar of bars) {
    const end = bar.at + bar.length;
    let done = bar.at;
    for (; next < notes.length; next += 1) {
      const note = notes[next];
      if (!note || note.from >= end) break;
      if (note.from > done) voice.push({ at: done, length: note.from - done, pitches: [] });
      voice.push({ at: note.from, length: note.to - note.from, pitches: [note.pitch] });
      done = note.to;
    }
    if (done < end) voice.push({ at: done, length: end - done, pitches: [] });
  }
  return voice;
}
