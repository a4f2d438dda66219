import { listed } from '../score/number-words.ts';
import { namedByPasses } from '../score/copy-names.ts';
import type { Bar, Score, Section } from '../score/score.ts';

/** `bars 1, 3 and 5 to 8`, `bar 4`, `the introduction and bars 2 to 4`. Bars that stand more than once are named once. */
export function sayBarList(bars: readonly Bar[]): string {
  const numbers = [
    ...new Set(bars.filter(({ copyOf }) => copyOf === undefined).map(({ number }) => number)),
  ];
  const inRow = numbers.filter((number) => number > 0).sort((a, b) => a - b);
  const runs: [number, number][] = [];
  for (const number of inRow) {
    const last = runs.at(-1);
    if (last && last[1] === number - 1) last[1] = number;
    else runs.push([number, number]);
  }
  const names = runs.flatMap(([from, to]) =>
    to === from ? [`${from}`] : to === from + 1 ? [`${from}`, `${to}`] : [`${from} to ${to}`],
  );
  const said = inRow.length === 1 ? `bar ${names[0] ?? ''}` : `bars ${listed(names)}`;
  return listed([
    ...(bars.some(({ copyOf }) => copyOf !== undefined) ? ['the introduction'] : []),
    ...(numbers.includes(0) ? ['the pickup'] : []),
    ...(inRow.length > 0 ? [said] : []),
  ]);
}

/**
 * The same of bars of a score, with the section where a number stands more than once, as it does where a section is written
 * out twice: `bars 12 to 16 of verse 5 and bar 17`.
 */
export function sayBarsOf(score: Score, bars: readonly Bar[]): string {
  const numbers = score.bars.flatMap((bar) => (bar.copyOf === undefined ? [bar.number] : []));
  const stands = (bar: Bar) => numbers.filter((number) => number === bar.number).length;
  const sections = new Map<Section | null, Bar[]>();
  for (const bar of bars) {
    const section = score.sections.find(
      ({ from, to }) => from < bar.at + bar.length && to > bar.at,
    );
    const isOnce = bar.copyOf !== undefined || stands(bar) < 2;
    const place = isOnce ? null : (section ?? null);
    sections.set(place, [...(sections.get(place) ?? []), bar]);
  }
  return listed(
    [...sections].map(([section, own]) =>
      section === null
        ? sayBarList(own)
        : `${sayBarList(own)} of ${namedByPasses(score, section).toLocaleLowerCase()}`,
    ),
  );
}

/**
 * `there is a bass this week, so the left hand stays light: other notes in bars 1, 3 and 5 to 8`; where that is wherever it
 * plays, `… so the left hand stays light all through`.
 * @param played the bars in which the left hand plays
 */
export function sayForTheBass(
  score: Score,
  changed: readonly Bar[],
  played: readonly Bar[],
): string {
  const light = 'there is a bass this week, so the left hand stays light';
  return played.every((bar) => changed.includes(bar))
    ? `${light} all through`
    : `${light}: other notes in ${sayBarsOf(score, changed)}`;
}
