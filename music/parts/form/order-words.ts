import { passesOf, unfold, type NamedPass } from '../../score/form.ts';
import type { Score } from '../../score/score.ts';
import { INTRODUCTION } from './introduction.ts';
import { sayUp, upOf } from './keys-of-form.ts';
import { isLink } from '../link/link.ts';
import { sayLoopPass } from './loop-words.ts';
import { listed } from '../../score/number-words.ts';
import { nameVerses } from '../../score/pass-names.ts';

/**
 * The order in which everything is played, as a leader says it: `introduction once, then verses 1 to 5`,
 * `introduction once, then three times verse, refrain`.
 */
export function sayOrder(score: Score): string {
  const passes = passesOf(score).filter(({ section }) => !isLink(section));
  const sung = passes.filter(({ section }) => section.id !== INTRODUCTION);
  const order = sayPasses(sung) + sayRepeats(score, sung);
  if (sung.length === passes.length) return order;
  return `introduction once, then ${order}`;
}

/** What comes before, what is played, what comes after: `comes from “…” in C by the dominant; introduction once, …`. */
export function inOrder(...words: readonly (string | undefined)[]): string {
  return words.filter((each) => each !== undefined && each !== '').join('; ');
}

/** `verses 1 to 3`, `verse, refrain ×3`: passes in the order they are sung. */
export function sayPasses(passes: readonly NamedPass[]): string {
  const period = periodOf(passes);
  const times = passes.length / period;
  const one = passes.slice(0, period);
  if (times > 1 && period > 1)
    return `${sayRaised(one.map((each) => [{ ...each, verse: null }])).join(', ')} ×${times}`;
  const raised = passes.findIndex(({ pass }) => upOf(pass) !== 0);
  const before = raised > 0 ? passes.slice(0, raised) : [];
  const head = periodOf(before);
  if (head > 1 && head < before.length)
    return [sayPasses(before), ...joinRuns(passes.slice(raised))].join(', ');
  return joinRuns(passes).join(', ');
}

/** The least number of passes whose sections, over and over, make the whole form. */
function periodOf(passes: readonly NamedPass[]): number {
  const ids = passes.map(({ section, pass }) => `${section.id} ${upOf(pass)}`);
  for (let period = 1; period < ids.length; period++) {
    if (ids.length % period === 0 && ids.every((id, i) => id === ids[i % period])) return period;
  }
  return Math.max(1, ids.length);
}

/** Passes through one section that follow one another are said together. */
function joinRuns(passes: readonly NamedPass[]): string[] {
  const runs: NamedPass[][] = [];
  for (const pass of passes) {
    const last = runs.at(-1);
    const [before] = last ?? [];
    const isAgain = before?.section.id === pass.section.id && upOf(before.pass) === upOf(pass.pass);
    if (isAgain) last?.push(pass);
    else runs.push([pass]);
  }
  return sayRaised(runs);
}

/** How far runs in another key are moved is said once behind them: `verse 3 and refrain up a whole step`. */
function sayRaised(runs: readonly (readonly NamedPass[])[]): string[] {
  const said: string[] = [];
  let together: string[] = [];
  runs.forEach((run, i) => {
    const [up, next] = [run, runs[i + 1]].map((each) => each?.[0] && upOf(each[0].pass));
    if (!up) said.push(sayRun(run));
    else together.push(sayRun(run));
    if (!up || next === up) return;
    said.push(`${listed(together)} ${sayUp(up)}`);
    together = [];
  });
  return said;
}

function sayRun(run: readonly NamedPass[]): string {
  const { section } = run[0] as NamedPass;
  if (section.kind === 'vamp') return sayLoopPass(section);
  const name = section.name.toLocaleLowerCase();
  const verses = run.flatMap(({ verse }) => verse ?? []);
  const named = nameVerses({ name }, verses);
  if (verses.length === run.length && (run.length === 1 || named !== name)) return named;
  return run.length === 1 ? name : `${name} ×${run.length}`;
}

/** What the signs in the bars ask for besides: a pass that is played twice, or an ending for each pass. */
function sayRepeats(score: Score, passes: readonly NamedPass[]): string {
  const own = passes.map(({ pass }) =>
    unfold(score)
      .filter((stretch) => stretch.pass === pass)
      .map(({ round }) => round),
  );
  if (own.some((rounds) => new Set(rounds).size > 1)) return ', with the repeats';
  if (own.some((rounds) => rounds.some((round) => round > 1))) return ', each to its own ending';
  return '';
}
