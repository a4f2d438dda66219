import type { Bar, Score, Ticks } from '#music';

/** What stands in a bar, from its own start: two bars with the same content are the same. */
function contentOf(score: Score, { at, length, ...bar }: Bar): string {
  const end = at + length;
  const inside = (each: { readonly at: Ticks }): boolean => each.at >= at && each.at < end;
  const own = <T extends { readonly at: Ticks }>(list: readonly T[]) =>
    list.filter(inside).map((each) => ({ ...each, at: each.at - at }));
  return canonical([
    length,
    bar,
    score.voices.map(({ id, notes }) => [id, own(notes)]),
    own(score.chords).map(({ at: place, length: lasts, chord }) => [place, lasts, chord]),
    own(score.keys).map(({ at: place, key, signature }) => [place, key, signature]),
    own(score.meters),
    score.sections
      .filter(({ from }) => from >= at && from < end)
      .map(({ kind, name, loop }) => [kind, name, loop]),
  ]);
}

export interface Differences {
  /** Indexes of the bars of each that the other has not so. */
  readonly mine: readonly number[];
  readonly theirs: readonly number[];
  /** Beyond the bars: `the title`, `the tempo`, `the passes`. */
  readonly besides: readonly string[];
}

/** A value as text, whatever the order of its fields. */
function canonical(value: unknown): string {
  return JSON.stringify(value, (_, each: unknown) =>
    typeof each === 'object' && each !== null && !Array.isArray(each)
      ? Object.fromEntries(Object.entries(each).sort(([a], [b]) => (a < b ? -1 : 1)))
      : each,
  );
}

/** Whether two songs, or parts of them, are the same. */
export function alike(a: unknown, b: unknown): boolean {
  return canonical(a ?? null) === canonical(b ?? null);
}

/** The bars in which two states of a song differ: what is alike at the beginning and at the end is laid on each other. */
export function differences(mine: Score, theirs: Score): Differences {
  const [here, there] = [mine, theirs].map((score) =>
    score.bars.map((bar) => contentOf(score, { ...bar, number: 0 })),
  ) as [string[], string[]];
  const most = Math.min(here.length, there.length);
  let head = 0;
  while (head < most && here[head] === there[head]) head += 1;
  let tail = 0;
  while (tail < most - head && here.at(-1 - tail) === there.at(-1 - tail)) tail += 1;
  const between = (own: readonly string[], other: readonly string[]): number[] =>
    own.flatMap((content, index) => {
      if (index < head || index >= own.length - tail) return [];
      return own.length === other.length && content === other[index] ? [] : [index];
    });
  const besides: (readonly [string, boolean])[] = [
    ['the title', mine.facts.title === theirs.facts.title],
    ['the tempo', alike(mine.tempo, theirs.tempo)],
    ['the passes', alike(mine.form, theirs.form)],
    ['how high it lies', alike(mine.compass, theirs.compass)],
    ['the verses', alike(mine.verses, theirs.verses)],
  ];
  return {
    mine: between(here, there),
    theirs: between(there, here),
    besides: besides.flatMap(([name, alike]) => (alike ? [] : [name])),
  };
}

/** `bar 3`, `bars 3 to 5 and 8`, `the pickup and bar 4`; by their printed numbers. */
export function sayBars(score: Score, indexes: readonly number[]): string {
  const numbers = [...new Set(indexes.map((index) => score.bars[index]?.number ?? 0))];
  const runs: [number, number][] = [];
  for (const number of numbers.filter((each) => each > 0)) {
    const last = runs.at(-1);
    if (last && last[1] === number - 1) last[1] = number;
    else runs.push([number, number]);
  }
  const said = runs.map(([from, to]) =>
    from === to ? `${from}` : to === from + 1 ? `${from} and ${to}` : `${from} to ${to}`,
  );
  const one = runs.length === 1 && runs[0]?.[0] === runs[0]?.[1];
  const last = said.pop() ?? '';
  const before = said.join(', ');
  const join = before === '' ? '' : last.includes(' and ') ? ', ' : ' and ';
  const bars = last === '' ? '' : `${one ? 'bar' : 'bars'} ${before}${join}${last}`;
  const pickup = numbers.includes(0) ? 'the pickup' : '';
  return [pickup, bars].filter(Boolean).join(' and ');
}
