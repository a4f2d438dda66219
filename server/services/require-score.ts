import { Scores, SongFiles, type Score } from '#music';
import { Refusal } from './refusal.ts';

/** A file may have no title, and is called as it is; who writes a song here can say. */
const NO_TITLE = {
  code: 'no-title',
  message: 'A song needs a title.',
  field: 'score.facts.title',
};

/** Music that somebody sends: a score that everything else may rely on, or a refusal that says what is wrong with it. */
export function requireScore(sent: unknown): Score {
  const read = Scores.read(sent);
  if (read.ok && SongFiles.hasTitle(read.value)) return read.value;
  const problems = read.ok ? [NO_TITLE] : read.problems;
  const first = problems[0]?.message ?? 'It is no song.';
  throw new Refusal(
    'broken-score',
    `The music does not hold together: ${first} Nothing was changed.`,
    { problems },
  );
}
