import { success, type Result } from '../result.ts';
import { SCORE_LIMITS } from '../score/limits.ts';
import type { Note, Score, Voice } from '../score/score.ts';
import type { NoteEdit } from './edit.ts';
import { isFailure, refused, voiceOf } from './refusal.ts';
import { tidied } from './typed-text.ts';

type Of<K extends NoteEdit['do']> = Extract<NoteEdit, { readonly do: K }>;

/** A rest in every bar. */
export function silence({ bars }: Pick<Score, 'bars'>): Note[] {
  return bars.map(({ at, length }) => ({ at, length, pitches: [] }));
}

function add(score: Score, { id, name, clef }: Of<'add voice'>): Result<Score> {
  if (id.trim() === '' || id.length > 40) return refused('A voice needs a short name inside the song.'); // prettier-ignore
  if (score.voices.some((voice) => voice.id === id)) return refused('The song has that voice already.'); // prettier-ignore
  const called = tidied(name) || id;
  if (called.length > SCORE_LIMITS.name)
    return refused('That is too long for the name of a voice.');
  const staff = Math.max(0, ...score.voices.map((voice) => voice.staff)) + 1;
  if (score.voices.length >= SCORE_LIMITS.voices || staff > SCORE_LIMITS.voices) {
    return refused(`A song has at most ${SCORE_LIMITS.voices} voices.`);
  }
  const group = score.voices.find((voice) => voice.id === score.melody)?.group ?? 'Singer';
  const voice: Voice = { id, name: called, group, staff, clef, notes: silence(score) };
  return success({ ...score, voices: [...score.voices, voice] });
}

function remove(score: Score, { voice: id }: Of<'remove voice'>): Result<Score> {
  const voice = voiceOf(score, id);
  if (isFailure(voice)) return voice;
  if (id === score.melody)
    return refused(`${voice.name || 'This voice'} is the tune; a song keeps it.`);
  const others = score.voices.filter((each) => each !== voice);
  const isAlone = others.every(({ staff }) => staff !== voice.staff);
  const voices = others.map((each) =>
    isAlone && each.staff > voice.staff ? { ...each, staff: each.staff - 1 } : each,
  );
  return success({ ...score, voices });
}

export const VOICES = { 'add voice': add, 'remove voice': remove };
