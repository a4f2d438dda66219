import type { PitchName } from '../pitch/pitch.ts';
import type { Note, Score, Ticks } from '../score/score.ts';
import { barLength, endOf, inForce } from '../score/time.ts';
import type { Edit, OneEdit } from './edit.ts';

export interface Cursor {
  readonly voice: string;
  readonly at: Ticks;
}

/**
 * The next note of a voice, written in step: its edit, and where the one after it begins. Where it runs over the end, bars
 * are put there first, in the same step of undo.
 * @param pitches one, several at once (low to high), or null for a rest
 */
export function stepped(
  score: Score,
  { voice, at }: Cursor,
  pitches: PitchName | readonly PitchName[] | null,
  length: Ticks,
  tuplet?: NonNullable<Note['tuplet']>,
): { readonly edit: Edit; readonly next: Ticks } {
  const note: OneEdit = {
    do: 'note',
    voice,
    at,
    length,
    pitches: pitches === null ? [] : typeof pitches === 'string' ? [pitches] : pitches,
    ...(tuplet && { tuplet }),
  };
  const next = at + length;
  const end = endOf(score);
  const full = barLength(inForce(score.meters, end).meter) ?? score.bars.at(-1)?.length ?? 0;
  const missing = full > 0 && next > end ? Math.ceil((next - end) / full) : 0;
  if (missing === 0) return { edit: note, next };
  const room: OneEdit = { do: 'insert bars', bar: score.bars.length, count: missing };
  return { edit: { do: 'together', edits: [room, note] }, next };
}

const startsOf = (score: Score, voice: string): Ticks[] =>
  score.voices.find(({ id }) => id === voice)?.notes.map(({ at }) => at) ?? [];

/** Where the next note or rest of a voice begins after a place: at the latest where the song ends. */
export function after(score: Score, voice: string, at: Ticks): Ticks {
  return startsOf(score, voice).find((each) => each > at) ?? endOf(score);
}

/** Where the note or rest before a place begins; 0 where there is none. */
export function before(score: Score, voice: string, at: Ticks): Ticks {
  return startsOf(score, voice).findLast((each) => each < at) ?? 0;
}
