import { KeyFit, Keys, NumberWords, type FrontRow, type Verdict } from '#music';

const WORST: Readonly<Record<Verdict, (names: string) => string>> = {
  easy: () => 'easy for every voice',
  works: (names) => `works for ${names}`,
  edge: (names) => `at the edge for ${names}`,
  outside: (names) => `outside the range of ${names}`,
};
const BESIDE: readonly string[] = ['usual', 'distance', 'signature'];
const rankOf = (verdict: Verdict): number => KeyFit.VERDICTS.indexOf(verdict);

/**
 * A key in one short line: the worst of its verdicts and whose it is, then how far it lies from home and what is to be
 * read; of a key that another one is as good as or better, only that.
 * @example at the edge for Ada and Wren · down a step · one flat
 */
export function sayBriefly({ voices, costs, dominated }: FrontRow): string {
  const worst = Math.max(0, ...voices.map(({ verdict }) => rankOf(verdict)));
  const verdict = KeyFit.VERDICTS[worst] ?? 'easy';
  const names = voices.filter((row) => row.verdict === verdict).map(({ name }) => name);
  const said = WORST[verdict](NumberWords.listed(names));
  if (dominated) return `${said} · ${Keys.sayKey(dominated.by)} is as good or better`;
  const beside = costs.filter(({ dimension }) => BESIDE.includes(dimension));
  return [said, ...beside.map(({ words }) => words)].join(' · ');
}
