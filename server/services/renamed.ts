import { Editing, type Score } from '#music';
import { invalidInput } from './invalid-input.ts';

/** The music under another title, or another name of its tune; refuses a title of nothing but blanks. */
export function renamed(
  score: Score,
  {
    title,
    tune,
  }: { readonly title?: string | undefined; readonly tune?: string | null | undefined },
): Score {
  const facts = {
    ...(title !== undefined && { title }),
    ...(tune !== undefined && { tune: tune?.trim() || null }),
  };
  const result = Editing.apply(score, { do: 'facts', facts });
  if (result.ok) return result.value;
  const [problem] = result.problems;
  throw invalidInput(
    title === undefined ? 'tune' : 'title',
    problem?.message ?? 'That is no name.',
  );
}
