import type { ImportLine } from '#server/contract/library.ts';

export type Outcome = ImportLine['outcome'];

/** What each outcome is called over its list, what needs a person first. */
export const OUTCOMES: readonly { readonly outcome: Outcome; readonly name: string }[] = [
  { outcome: 'failed', name: 'could not be read' },
  { outcome: 'left out', name: 'left out' },
  { outcome: 'in with guesses', name: 'in, with guesses to look at' },
  { outcome: 'in', name: 'in' },
];

const many = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

/** The report in one sentence: `12 songs are in, 3 of them with guesses; 2 left out, 1 could not be read.` */
export function sayReport(lines: readonly Pick<ImportLine, 'outcome'>[]): string {
  const count = (outcome: Outcome): number =>
    lines.filter((line) => line.outcome === outcome).length;
  const guessed = count('in with guesses');
  const into = count('in') + guessed;
  const are = into === 1 ? 'is' : 'are';
  const guesses = guessed === 0 ? '' : `, ${into === 1 ? 'with guesses' : `${guessed} of them with guesses`}`; // prettier-ignore
  const others = [
    count('left out') > 0 && `${count('left out')} left out`,
    count('failed') > 0 && `${count('failed')} could not be read`,
  ].filter((each) => each !== false);
  const rest = others.length > 0 ? `; ${others.join(', ')}` : '';
  return `${into === 0 ? 'No song is' : `${many(into, 'song')} ${are}`} in${guesses}${rest}.`;
}

/** Why a song is like one of the book. */
export const LIKE: Readonly<Record<NonNullable<ImportLine['double']>['because'], string>> = {
  title: 'has the same title',
  'first line': 'has the same first line',
  melody: 'has the same melody, perhaps in another key',
};
