import { parsePitch, type PitchName } from '../pitch/pitch.ts';
import { success, type Failure, type Result } from '../result.ts';
import type { Note, Score, Ticks, Voice } from '../score/score.ts';
import { endOf } from '../score/time.ts';
import type { NoteEdit } from './edit.ts';
import {
  chainAt,
  indexAt,
  isHeldInto,
  layNotes,
  restOf,
  settleRests,
  splitAtBars,
  untied,
} from './lay-notes.ts';
import {
  isFailure,
  isWhole,
  missingPlace,
  refused,
  refusedAt,
  voiceOf,
  withoutTime,
  withVoice,
} from './refusal.ts';
import { slurred, slursOf, withoutSlurs } from './slurs.ts';

type Of<K extends NoteEdit['do']> = Extract<NoteEdit, { readonly do: K }>;

/** The notes that MIDI can name; nobody writes a song beyond them. */
const [LOWEST, HIGHEST] = [0, 127];
const MOST_IN_CHORD = 12;

/** Low to high, each once; a failure where one is no pitch. */
function chordOf(pitches: readonly PitchName[]): readonly PitchName[] | Failure {
  if (pitches.length > MOST_IN_CHORD) return refused(`A chord has at most ${MOST_IN_CHORD} notes.`);
  const found = new Map<PitchName, number>();
  for (const name of pitches) {
    const midi = typeof name === 'string' ? parsePitch(name)?.midi : undefined;
    if (midi === undefined) {
      return refused(`${JSON.stringify(name)} is not a note with its octave, such as A3 or Bb4.`);
    }
    if (midi < LOWEST || midi > HIGHEST) return refused(`${name} lies beyond every instrument.`);
    found.set(name, midi);
  }
  return [...found].sort(([, a], [, b]) => a - b).map(([name]) => name);
}

/** The voice and the index of the note that it holds there, or why there is none. */
function noteIn(
  score: Score,
  id: string,
  at: Ticks,
): { voice: Voice; index: number; note: Note } | Failure {
  const missing = withoutTime(score) ?? missingPlace(score, at);
  if (missing) return missing;
  const voice = voiceOf(score, id);
  if (isFailure(voice)) return voice;
  const index = indexAt(voice.notes, at);
  const note = voice.notes[index];
  return note ? { voice, index, note } : refusedAt(score, at, 'the voice has nothing there.');
}

const isTuplet = ({ actual, normal }: NonNullable<Note['tuplet']>): boolean =>
  isWhole(actual, 2, 16) && isWhole(normal, 1, 16);

function write(score: Score, edit: Of<'note'>): Result<Score> {
  const { at, length, tuplet } = edit;
  const found = noteIn(score, edit.voice, at);
  if (isFailure(found)) return found;
  const pitches = chordOf(edit.pitches);
  if (isFailure(pitches)) return pitches;
  if (!isWhole(length, 1)) return refusedAt(score, at, 'a note lasts some time.');
  if (at + length > endOf(score)) {
    return refusedAt(score, at, 'this note lasts longer than the song. Put bars at the end first.');
  }
  if (tuplet && !isTuplet(tuplet)) return refusedAt(score, at, 'there is no such tuplet.');
  const { voice } = found;
  const here = voice.notes.find((note) => note.at === at);
  const syllables = pitches.length > 0 ? here?.syllables : undefined;
  const span = { from: at, to: at + length };
  const written = splitAtBars(score.bars, {
    at,
    length,
    pitches,
    ...(syllables && { syllables }),
    ...(tuplet && { tuplet: { actual: tuplet.actual, normal: tuplet.normal } }),
  });
  const laid = layNotes(score, voice.notes, span, written);
  const notes = pitches.length === 0 ? settleRests(score, laid, span) : laid;
  return success(withVoice(score, { ...voice, notes }));
}

function erase(score: Score, edit: Of<'erase'>): Result<Score> {
  const found = noteIn(score, edit.voice, edit.at);
  if (isFailure(found)) return found;
  const { voice, index, note } = found;
  if (note.pitches.length === 0) return refusedAt(score, edit.at, 'there is only a rest.');
  const [from, to] = chainAt(voice.notes, index);
  const gone = new Set(Array.from({ length: to - from }, (_, i) => from + i));
  const notes = withoutSlurs(voice.notes, gone).map((each, i) => {
    if (gone.has(i)) return restOf(untied(each));
    return i === from - 1 ? untied(each) : each;
  });
  const last = voice.notes[to - 1] ?? note;
  const span = { from: voice.notes[from]?.at ?? note.at, to: last.at + last.length };
  return success(withVoice(score, { ...voice, notes: settleRests(score, notes, span) }));
}

function pitch(score: Score, edit: Of<'pitch'>): Result<Score> {
  const found = noteIn(score, edit.voice, edit.at);
  if (isFailure(found)) return found;
  const pitches = chordOf(edit.pitches);
  if (isFailure(pitches)) return pitches;
  const { voice, index, note } = found;
  if (pitches.length === 0) return refusedAt(score, edit.at, 'a note needs a pitch.');
  if (note.pitches.length === 0) return refusedAt(score, edit.at, 'there is only a rest.');
  const [from, to] = chainAt(voice.notes, index);
  const notes = voice.notes.map((each, i): Note => {
    if (i === from - 1) return untied(each);
    if (i < from || i >= to) return each;
    const { fingers, ...rest } = each;
    return { ...rest, pitches, ...(fingers?.length === pitches.length && { fingers }) };
  });
  return success(withVoice(score, { ...voice, notes }));
}

function tie(score: Score, edit: Of<'tie' | 'fermata' | 'slur'>): Result<Score> {
  const found = noteIn(score, edit.voice, edit.at);
  if (isFailure(found)) return found;
  const { voice, index, note } = found;
  if (edit.on && !isHeldInto({ ...note, tie: true }, voice.notes[index + 1])) {
    return refusedAt(score, edit.at, 'the next note is not the same, so nothing can be tied.');
  }
  const changed: Note = edit.on ? { ...note, tie: true } : untied(note);
  return success(withVoice(score, { ...voice, notes: voice.notes.with(index, changed) }));
}

function fermata(score: Score, edit: Of<'tie' | 'fermata' | 'slur'>): Result<Score> {
  const found = noteIn(score, edit.voice, edit.at);
  if (isFailure(found)) return found;
  const { voice, index, note } = found;
  const { fermata: _fermata, ...without } = note;
  const changed: Note = edit.on ? { ...note, fermata: true } : without;
  return success(withVoice(score, { ...voice, notes: voice.notes.with(index, changed) }));
}

/** On: from that note to the next, or one that ends here goes on to the next. Off: the slur that it stands under goes. */
function slur(score: Score, edit: Of<'tie' | 'fermata' | 'slur'>): Result<Score> {
  const found = noteIn(score, edit.voice, edit.at);
  if (isFailure(found)) return found;
  const { voice, index, note } = found;
  const slurs = slursOf(voice.notes);
  const notes = [...voice.notes];
  const change = (place: number, starts: number, ends: number): void => {
    const before = notes[place];
    if (before) notes[place] = slurred(before, starts, ends);
  };
  if (!edit.on) {
    const over = slurs.filter(([from, to]) => from <= index && index <= to).at(-1);
    if (!over) return refusedAt(score, edit.at, 'no slur stands here.');
    change(over[0], -1, 0);
    change(over[1], 0, -1);
    return success(withVoice(score, { ...voice, notes }));
  }
  const next = voice.notes[index + 1];
  if (note.pitches.length === 0 || !next || next.pitches.length === 0) {
    return refusedAt(score, edit.at, 'a slur goes from one note to the next.');
  }
  if (slurs.some(([from, to]) => from <= index && index < to)) {
    return refusedAt(score, edit.at, 'the slur goes on from here already.');
  }
  if (slurs.some(([, to]) => to === index)) change(index, 0, -1);
  else change(index, 1, 0);
  change(index + 1, 0, 1);
  return success(withVoice(score, { ...voice, notes }));
}

export const NOTES = { note: write, erase, pitch, tie, fermata, slur };
