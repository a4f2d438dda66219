import { Agent } from 'node:http';
import { startApp } from '../browser/support/running-app.ts';
import type { Row } from './measure.ts';
import { ask, planService } from './pages.bench.ts';

/** What people wait for at most: the first time, and again where nothing changed. Seconds, on two cores. */
const [COLD, AGAIN] = [20, 2];
/** How much longer others may wait meanwhile. */
const OTHERS = 2;
const CALLS = 600;

const percentile = (list: readonly number[], share: number): number =>
  [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(list.length * share))] ??
  NaN;
const said = (value: number): string => value.toFixed(2);

/** Everybody's packets of eight songs and six people; and what others wait meanwhile for pages that are kept. */
export async function bench(): Promise<Row[]> {
  const app = await startApp();
  const [agent, other] = [new Agent({ keepAlive: true }), new Agent({ keepAlive: true })];
  try {
    const urls = await planService(app.address);
    const pages = urls[1] ?? '';
    const everyone = pages.replace(/\/pages\/.*$/, '/packets');
    for (let i = 0; i < 100; i++) await ask(other, pages);
    const alone: number[] = [];
    for (let i = 0; i < CALLS; i++) alone.push((await ask(other, pages)).milliseconds);
    let isMade = false;
    const making = ask(agent, everyone).finally(() => (isMade = true));
    const meanwhile: number[] = [];
    while (!isMade) meanwhile.push((await ask(other, pages)).milliseconds);
    const cold = await making;
    const again = await ask(agent, everyone);
    const large = await ask(agent, `${everyone}?print=large&paper=Letter`);
    const [p99, busy] = [percentile(alone, 0.99), percentile(meanwhile, 0.99)];
    return [
      {
        name: 'everybody’s packets (8 songs, 6 people), the first time / 20 s',
        ratio: cold.milliseconds / 1000 / COLD,
        limit: 1,
        detail: `${said(cold.milliseconds / 1000)} s while others ask without a pause; ${said(cold.bytes.length / 1024)} KB; large print ${said(large.milliseconds / 1000)} s`,
      },
      {
        name: 'the same again, unchanged / 2 s',
        ratio: again.milliseconds / 1000 / AGAIN,
        limit: 1,
        detail: `${said(again.milliseconds)} ms`,
      },
      {
        name: 'what others wait meanwhile / without it, p99',
        ratio: busy / p99,
        limit: OTHERS,
        detail: `p99 ${said(busy)} ms of ${meanwhile.length} against ${said(p99)} ms of ${alone.length}; p50 ${said(percentile(meanwhile, 0.5))} and ${said(percentile(alone, 0.5))} ms`,
      },
    ];
  } finally {
    agent.destroy();
    other.destroy();
    await app.stop();
  }
}
