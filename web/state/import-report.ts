import type { ImportLine } from '#server/contract/library.ts';

/** What of a line is read. */
type Told = Pick<ImportLine, 'outcome' | 'title' | 'file' | 'why' | 'double' | 'problems'>;

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

/** The report as a text that can be sent or kept: the sentence, and a list for each outcome, as on the page. */
export function writeReport(lines: readonly Told[]): string {
  const lists = OUTCOMES.map(({ outcome, name }) => ({
    name,
    found: lines.filter((line) => line.outcome === outcome),
  })).filter(({ found }) => found.length > 0);
  const texts = lists.map(
    ({ name, found }) => `${name} (${found.length})\n${found.map(writeLine).join('')}`,
  );
  return [`${sayReport(lines)}\n`, ...texts].join('\n');
}

function writeLine({ title, file, why, double, problems }: Told): string {
  const name = title === null ? file : `${title} [${file}]`;
  const because = sayWhy({ why, double });
  const remarks = remarksOf({ why, problems }).map(
    ({ line, message }) => `    ${line === undefined ? '' : `line ${line}: `}${message}\n`,
  );
  return `- ${name}\n${because ? `  ${because}\n` : ''}${remarks.join('')}`;
}

/** Why a line says what it says; empty: all is well. */
export function sayWhy({ why, double }: Pick<ImportLine, 'why' | 'double'>): string {
  return double ? `${double.title} is in the book and ${LIKE[double.because]}.` : why;
}

/** Remarks that the reason of a line has not said already. */
export function remarksOf({
  why,
  problems,
}: Pick<ImportLine, 'why' | 'problems'>): ImportLine['problems'] {
  return problems.filter(({ message }) => problems.length > 1 || !why.includes(message));
}

/** `98 MB`, `140 KB`: as people say how large a file is (SI, 1 MB = 1,000,000 bytes). */
export function sayBytes(bytes: number): string {
  return bytes < 1_000_000
    ? `${Math.max(1, Math.round(bytes / 1000))} KB`
    : `${Math.round(bytes / 1_000_000)} MB`;
}

/** What is not in yet: `the rest of book.zip waits`, `the other 12 files wait`. */
export function sayRest(names: readonly string[], isBegun: boolean): string {
  const [first = '', ...others] = names;
  if (!isBegun) {
    return names.length === 1 ? `${first} waits` : `the other ${names.length} files wait`;
  }
  return others.length === 0
    ? `the rest of ${first} waits`
    : `the rest of ${first} and ${many(others.length, 'file')} wait`;
}
