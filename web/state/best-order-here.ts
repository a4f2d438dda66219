import { ServiceOrder, type LineToPlan } from '#music';
import type { BestOrderAnswer, BestOrderQuestion } from '#server/contract/best-order.ts';
import type { DevicePlanner } from '#web/plan/planner.ts';
import type { ServicePage } from './service.svelte.ts';
import { standServiceOf } from './stand-service.ts';

/**
 * The best order worked out on this device, by the same search as the server’s, from the songs and people that are here.
 * null: they are not, or the device cannot.
 */
export async function bestOrderHere(
  page: ServicePage,
  { order = 'kept', most = null, shape = null, pins = {} }: BestOrderQuestion,
  planner: Pick<DevicePlanner, 'bestOrder'>,
): Promise<BestOrderAnswer | null> {
  const here = standServiceOf(page);
  if (!here) return null;
  const items = here.lines.map((line): LineToPlan =>
    line.score ? { ...line, pinned: pins[line.id] ?? {} } : line,
  );
  if (items.filter(({ score }) => score !== null).length > ServiceOrder.MOST_SONGS) return null;
  const team = ServiceOrder.teamOf(here.people, items, here.congregation);
  const options = { order, shape, ...(most === null ? {} : { most }) };
  try {
    const best = await planner.bestOrder(items, team, options);
    return {
      ...best,
      plans: [...best.plans],
      problems: [...best.problems],
      service: page.id,
      serviceVersion: page.service?.version ?? 0,
      player: team.player?.name ?? null,
      prices: ServiceOrder.prices().map((price) => ({ ...price })),
    };
  } catch {
    return null;
  }
}
