import { failure, type Failure } from '../result.ts';
import type { Score, Ticks, Voice } from '../score/score.ts';
import { endOf } from '../score/time.ts';
import { capital, sayPlace } from './place-words.ts';

/** An edit that cannot be done, in one sentence that names its place. The song stays as it is. */
export function refused(message: string): Failure {
  return failure({ code: 'not-possible', message });
}

export const isFailure = (value: object): value is Failure => 'ok' in value && value.ok === false;

/** Whether a value is a whole number of at least `from` and at most `to`. */
export function isWhole(
  value: number,
  from: number,
  to: number = Number.MAX_SAFE_INTEGER,
): boolean {
  return Number.isSafeInteger(value) && value >= from && value <= to;
}

/** Null: the song has that moment. */
export function missingPlace(score: Score, at: Ticks): Failure | null {
  if (isWhole(at, 0, endOf(score) - 1)) return null;
  return refused('That place lies outside the song.');
}

/** Null: the song has a bar of that index. */
export function missingBar(score: Score, bar: number): Failure | null {
  if (isWhole(bar, 0, score.bars.length - 1)) return null;
  return refused(`The song has no such bar; its last is bar ${score.bars.at(-1)?.number ?? 0}.`);
}

/** What needs bars and beats is refused where the places of a song are only an order. */
export function withoutTime(score: Score): Failure | null {
  if (!score.untimed) return null;
  return refused('This song has words and chords but no bars yet. Give it time first.');
}

export function voiceOf(score: Score, id: string): Voice | Failure {
  const voice = score.voices.find((each) => each.id === id);
  return voice ?? refused('The song has no such voice.');
}

export function withVoice(score: Score, voice: Voice): Score {
  return { ...score, voices: score.voices.map((each) => (each.id === voice.id ? voice : each)) };
}

/** `At bar 3, beat 2 …` */
export function refusedAt(score: Score, at: Ticks, words: string): Failure {
  return refused(`${capital(sayPlace(score, at))}: ${words}`);
}
