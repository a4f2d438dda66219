import { Scores, type Score } from '#music';
import { Refusal } from './refusal.ts';

/** Music that somebody sends: a score that everything else may rely on, or a refusal that says what is wrong with it. */
export function requireScore(sent: unknown): Score {
  const read = Scores.read(sent);
  if (read.ok) return read.value;
  const { problems } = read;
  const first = problems[0]?.message ?? 'It is no song.';
  throw new Refusal(
    'broken-score',
    `The music does not hold together: ${first} Nothing was changed.`,
    { problems },
  );
}
