import { placeBass } from '../../hand/bass-places.ts';
import { tonesOf } from '../../pitch/chord-symbol.ts';
import type { Key } from '../../pitch/key.ts';
import { midiOf, noteOf, pitchClassOf, type NoteName, type PitchName } from '../../pitch/pitch.ts';
import type { Note, Score, Span, Ticks } from '../../score/score.ts';
import { keyAt } from '../../score/time.ts';
import { bassOf, heldUnder, type Footing } from './bass-pedal.ts';
import { noteUnder, slotsOf, type Slot } from './bass-slots.ts';
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
import { stretchesOf, writtenBass, type WrittenNote } from './bass-written.ts';
import type { PlayedChord } from '../played-chords.ts';

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
  const settled = placeBass(chords.map(bassOf), song.strings);
  const stretches = stretchesOf(score, chords);
  const written = writtenBass(song, stretches);
  // Before the chord of the dominant nothing else of the song's own bass is given up; under it, it begins with that note.
  const canHold = (i: number, note: NoteName, isDominant: boolean) => {
    const own = stretches.flatMap(({ chord, from }) => (chord === i && written.get(from)) || []);
    const heard = isDominant ? own.slice(0, 1) : own;
    const { at } = chords[i] as PlayedChord;
    return (
      song.modeAt(at) === 'written' &&
      heard.every(({ pitch }) => pitchClassOf(noteOf(pitch)) === pitchClassOf(note))
    );
  };
  const footings = heldUnder(score, chords, canHold);
  for (const { chord, from } of stretches)
    if (footings[chord]?.pedal && footings[chord + 1]?.stays) written.delete(from);
  const slots = slotsOf(song, footings, stretches, written);
  const pitches = leastLine(stepsOf(song, slots, { footings, settled, written }));
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

interface Grounds {
  readonly footings: readonly Footing[];
  /** The place of the own bass note of each chord. */
  readonly settled: readonly PitchName[];
  readonly written: ReadonlyMap<Ticks, readonly WrittenNote[]>;
}

function stepsOf(song: BassSong, slots: readonly Slot[], grounds: Grounds): Step[] {
  const { footings, settled, written } = grounds;
  const low = lowestOf(song.strings);
  const first = { low, high: FIRST_POSITION_TOP };
  const wide = { low, high: WALKING_TOP };
  const steps: Step[] = [];
  // What a note outside the walking lines is: one pitch, known as the line goes on.
  let before: PitchName = settled[0] ?? '';
  slots.forEach((slot, i) => {
    const { from, chord, role } = slot;
    const entry = song.chords[chord] as PlayedChord;
    const { note, pedal } = footings[chord] as Footing;
    const mode = song.modeAt(from);
    if (mode === 'walking') {
      steps.push({ role, candidates: walkingChoices(song, chord, role, note, wide) });
      return;
    }
    if (mode === 'written' && (slot.written || pedal)) {
      steps.push(writtenStep(slot, slots[i - 1], note, slot.written ? wide : first));
      return;
    }
    const place = settled[chord] as PitchName;
    const { key } = keyAt(song.score, from);
    if (role === 'approach') {
      const next = noteUnder(song, footings, written, chord + 1);
      const at = song.chords[chord + 1]?.at ?? -1;
      if (next !== null && (written.has(at) || footings[chord + 1]?.pedal)) {
        steps.push({ role: 'leading', candidates: stepsInto(next, entry, key, first) });
        return;
      }
      before =
        approachTo(settled[chord + 1] ?? place, place, before, entry.chord, key, first) ?? before;
    } else before = role === 'fifth' ? fifthBy(entry, place, first) : place;
    steps.push({ role: 'bass', candidates: [{ pitch: before, tone: 'bass' }] });
  });
  return steps;
}

/** A note of the bass that is written in the song, or of a dominant that is held: any octave of it. */
function writtenStep(
  { written, role, from }: Slot,
  before: Slot | undefined,
  note: NoteName,
  register: Register,
): Step {
  const pitches = octavesIn(written ? noteOf(written.pitch) : note, register);
  const tone = written?.passing === true ? 'scale' : 'bass';
  const candidates = pitches.map((pitch): Candidate => ({ pitch, tone }));
  const goesOn = written?.from === from && before?.to === from && written.way !== null;
  return { role, candidates, ...(goesOn && written.way !== null ? { way: written.way } : {}) };
}

/** What may lead by step into a note whose octave is still open: under the chord before it. */
function stepsInto(
  next: NoteName,
  { chord }: PlayedChord,
  key: Key,
  register: Register,
): Candidate[] {
  const choices = new Map<number, Candidate>();
  const add = (pitch: PitchName, tone: Candidate['tone']): void => {
    if (!choices.has(midiOf(pitch))) choices.set(midiOf(pitch), { pitch, tone });
  };
  for (const name of scaleUnder(chord, key))
    for (const pitch of octavesIn(name, register)) add(pitch, 'scale');
  for (const target of octavesIn(next, register))
    for (const side of [-1, 1] as const)
      for (const pitch of octavesIn(noteOf(halfStepBeside(target, side, key)), register))
        add(pitch, 'chromatic');
  return [...choices.values()];
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
