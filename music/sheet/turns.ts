import type { Part } from '../parts/part.ts';
import { QUARTER, type Ticks, type Voice } from '../score/score.ts';

/** How a page can be turned at a place: a section ends there, or a hand of the player rests. */
export type Turn = 'section' | 'rest';

/** A hand that is free for so long can turn a page: a beat (ours). */
const LONG_ENOUGH = QUARTER;

/** How long a voice is silent round a place; 0 where it sounds across it. */
function silentRound({ notes }: Voice, place: Ticks): Ticks {
  const sounding = notes.filter(({ pitches }) => pitches.length > 0);
  const ended = sounding
    .filter(({ at }) => at < place)
    .reduce((latest, { at, length }) => Math.max(latest, at + length), 0);
  const next = sounding.find(({ at }) => at >= place)?.at ?? Infinity;
  return next - ended;
}

/** The staves that this player plays or sings; the singer's above a keyboard is not one of them. */
function ownVoices({ role, printed, score }: Part): Voice[] {
  const shown = printed ? score.voices.filter(({ id }) => printed.includes(id)) : score.voices;
  return role === 'keys' ? shown.filter(({ id }) => id !== score.melody) : [...shown];
}

/**
 * How a page can be turned at the end of a system; null: nothing helps there.
 * @param isLast nothing comes after it, and nothing is turned
 */
export function turnAfter(part: Part, end: Ticks, isLast: boolean): Turn | null {
  if (isLast) return null;
  if (part.score.sections.some(({ from }) => from === end)) return 'section';
  const rests = ownVoices(part).some((voice) => silentRound(voice, end) >= LONG_ENOUGH);
  return rests ? 'rest' : null;
}
