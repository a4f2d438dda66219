import { createHash } from 'node:crypto';
import {
  ServiceOrder,
  type BestOrder,
  type LineToPlan,
  type OrderOptions,
  type OrderTeam,
  type SongToPlan,
} from '#music';

/** What a thread can be sent: everything but functions. */
export interface PlanRequest {
  readonly items: readonly LineToPlan[];
  readonly team: OrderTeam;
  readonly options: Omit<OrderOptions, 'onStands'>;
}

/** Weighed songs that are kept; one is some tens of kilobytes. */
const KEPT = 200;

/** Plans of services; a song is weighed once for each team and arrangement, which is most of the work. */
export class OrderPlans {
  /** The one that was not asked for the longest comes first. */
  readonly #kept = new Map<string, ServiceOrder.WeighedSong>();

  of({ items, team, options }: PlanRequest): BestOrder {
    const weighed = items.map((item) => (item.score ? this.#weighed(item, team) : null));
    return ServiceOrder.bestOf(items, weighed, team, options);
  }

  #weighed(song: SongToPlan, team: OrderTeam): ServiceOrder.WeighedSong {
    const bare = ServiceOrder.bareOf(song);
    const sign = createHash('sha256')
      .update(JSON.stringify([bare, team]))
      .digest('base64');
    const found = this.#kept.get(sign) ?? ServiceOrder.weigh(bare, team);
    this.#kept.delete(sign);
    this.#kept.set(sign, found);
    const [oldest] = this.#kept.keys();
    if (this.#kept.size > KEPT && oldest !== undefined) this.#kept.delete(oldest);
    return ServiceOrder.withPins(song, found, team);
  }
}
