import { listed } from '../score/number-words.ts';
import type { Bar } from '../score/score.ts';

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
 * `there is a bass this week, so the left hand stays light: other notes in bars 1, 3 and 5 to 8`; where that is wherever it
 * plays, `… so the left hand stays light all through`.
 * @param played the bars in which the left hand plays
 */
export function sayForTheBass(changed: readonly Bar[], played: readonly Bar[]): string {
  const light = 'there is a bass this week, so the left hand stays light';
  return played.every((bar) => changed.includes(bar))
    ? `${light} all through`
    : `${light}: other notes in ${sayBarList(changed)}`;
}
