import type { Problem, Score } from '#music';
import { Refusal } from './refusal.ts';

const MOST_SAID = 20;

function broken(problems: readonly Problem[]): Refusal {
  const first = problems[0]?.message ?? 'It is no song.';
  return new Refusal('broken-score', `${first} Nothing was changed.`, {
    problems: problems.slice(0, MOST_SAID),
  });
}

const LISTS = [
  'keys',
  'meters',
  'bars',
  'voices',
  'chords',
  'sections',
  'verses',
  'form',
  'introduction',
] as const satisfies readonly (keyof Score)[];

/** Music that somebody sends: a score that everything else may rely on, or a refusal that says what is wrong with it. */
export function requireScore(sent: Score): Score {
  const score: Partial<Score> = sent;
  const missing = LISTS.find((name) => !Array.isArray(score[name]));
  if (missing !== undefined) {
    throw broken([{ code: 'not-a-score', message: `The song has no ${missing}.` }]);
  }
  if (typeof score.facts?.title !== 'string') {
    throw broken([{ code: 'not-a-score', message: 'The song has no title.' }]);
  }
  if (!sent.voices.some(({ id }) => id === sent.melody)) {
    throw broken([
      { code: 'not-a-score', message: 'The song has no voice that carries the tune.' },
    ]);
  }
  return sent;
}
