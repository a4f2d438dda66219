import type { ServicePlan } from '#music';
import type { BestOrderAnswer, BestOrderQuestion, LinePins } from '#server/contract/best-order.ts';
import { findBestOrder } from '#web/api/best-order.ts';
import { DevicePlanner } from '#web/plan/planner.ts';
import type { Trouble } from '#web/api/http.ts';
import { bestOrderHere } from './best-order-here.ts';
import { itemsOf, pinsOfChanged, rowsOf, sayDifferences, type PlanRow } from './best-order-rows.ts';
import { sayIn, type ServicePage } from './service.svelte.ts';

/** The fullest step of a shape; the quietest is 0. */
export const FULLEST = 5;

/** Keys, leads and order of a service, weighed together: the question, its answer, and what of it is taken. */
export class BestOrder {
  readonly #page: ServicePage;
  readonly #planner = new DevicePlanner();
  order = $state<'kept' | 'free'>('kept');
  /** How many songs one lead takes at most; null: any number. */
  most = $state<number | null>(null);
  /** The same for one of them, by member. */
  mostOf = $state.raw<Readonly<Record<string, number>>>({});
  /** A step for each song, 0 to `FULLEST`; null: no shape is asked for. */
  #shape = $state.raw<readonly number[] | null>(null);
  pins = $state.raw<Readonly<Record<string, LinePins>>>({});
  answer = $state.raw<BestOrderAnswer | null>(null);
  /** The answer was worked out on this device, as no server answered. */
  isFromHere = $state(false);
  trouble = $state.raw<Trouble | null>(null);
  asking = $state(false);
  /** The plan that is in the order now, as far as nobody changed it since. */
  taken = $state.raw<ServicePlan | null>(null);
  /** Orders that the answer speaks of: the one that was weighed, and those that were taken from it. */
  #known = $state.raw<readonly string[]>([]);
  #breakOff = new AbortController();

  constructor(page: ServicePage) {
    this.#page = page;
  }

  readonly songs = $derived.by(() => this.#page.items.filter(({ kind }) => kind === 'song'));
  readonly leads = $derived.by(() =>
    this.#page.members.filter(({ roles }) => roles.includes('lead voice')),
  );
  readonly shape: readonly number[] | null = $derived.by(() => {
    const drawn = this.#shape;
    return drawn && this.songs.map((_, i) => drawn[i] ?? drawn.at(-1) ?? 0);
  });
  readonly plan: ServicePlan | null = $derived(this.answer?.plans[0] ?? null);
  readonly rows: readonly PlanRow[] = $derived.by(() =>
    this.plan ? rowsOf(this.plan, this.#page) : [],
  );
  /** Who or what stands otherwise than when it was asked, by other hands than the answer's. */
  readonly isOld = $derived.by(() => this.answer !== null && !this.#known.includes(this.#sign()));
  /** What somebody changed in the order after the plan was taken. */
  readonly changedSince = $derived.by(() =>
    this.taken ? pinsOfChanged(this.taken, this.#page) : {},
  );
  /** The next plans: what they would trade, and for how many points more. */
  readonly others = $derived.by(() => {
    const { answer, plan, rows } = this;
    if (!answer || !plan) return [];
    return answer.plans.slice(1).map((other) => ({
      plan: other,
      more: other.total - plan.total,
      words: sayDifferences(rows, rowsOf(other, this.#page), (id) => this.#page.nameOf(id)),
    }));
  });

  /** @param shape null: none */
  draw(shape: readonly number[] | null): void {
    this.#shape = shape;
  }

  /** From quiet to full, to begin with. */
  drawRising(): void {
    const last = Math.max(1, this.songs.length - 1);
    this.#shape = this.songs.map((_, i) => Math.round((FULLEST * i) / last));
  }

  pin(item: string, what: keyof LinePins, isPinned: boolean): void {
    this.pins = { ...this.pins, [item]: { ...this.pins[item], [what]: isPinned } };
  }

  /** @param most null: as for all */
  setMostOf(member: string, most: number | null): void {
    const { [member]: _before, ...rest } = this.mostOf;
    this.mostOf = most === null ? rest : { ...rest, [member]: most };
  }

  async ask(): Promise<void> {
    this.#breakOff.abort();
    const breakOff = (this.#breakOff = new AbortController());
    this.asking = true;
    this.trouble = null;
    try {
      // What is weighed is what the server has.
      await this.#page.saver?.retry();
      const sign = this.#sign();
      const question = this.#question();
      const answer = await findBestOrder(this.#page.id, question, breakOff.signal);
      const isUnheard = !answer.ok && answer.trouble.status === 0;
      const here = isUnheard ? await bestOrderHere(this.#page, question, this.#planner) : null;
      if (breakOff.signal.aborted) return;
      this.trouble = answer.ok || here ? null : answer.trouble;
      const found = answer.ok ? answer.value : here;
      if (found) {
        this.answer = found;
        this.isFromHere = here !== null;
        this.taken = null;
        this.#known = [sign];
      }
    } catch (error) {
      if (!breakOff.signal.aborted) throw error;
    } finally {
      if (breakOff === this.#breakOff) this.asking = false;
    }
  }

  /** Asks again, and what was changed by hand stays. */
  async askWithChanged(): Promise<void> {
    const pins = { ...this.pins };
    for (const [id, changed] of Object.entries(this.changedSince)) {
      const before = pins[id] ?? {};
      pins[id] = {
        place: before.place || changed.place || false,
        key: before.key || changed.key || false,
        lead: before.lead || changed.lead || false,
      };
    }
    this.pins = pins;
    await this.ask();
  }

  /** Puts a whole plan into the order, in one step. */
  take(plan: ServicePlan): void {
    const items = itemsOf(plan, this.#page);
    if (!items) return;
    this.#page.change({ items }, 'Keys, leads and order are as weighed.');
    this.taken = plan;
    this.#known = [...this.#known, this.#sign()];
  }

  /** The key and the lead of one song; its place stays. */
  takeLine({ id, title, key, lead }: PlanRow): void {
    const who = this.#page.nameOf(lead);
    const words = `${sayIn(title, key)}${who === null ? '' : `, ${who} leads`}.`;
    this.#page.changeItem(id, { key, lead }, words);
    this.#known = [...this.#known, this.#sign()];
  }

  /** The page is left. */
  leave(): void {
    this.#breakOff.abort();
    this.#planner.close();
  }

  #question(): BestOrderQuestion {
    const here = new Set(this.songs.map(({ id }) => id));
    const pins = Object.entries(this.pins).filter(([id]) => here.has(id));
    return {
      order: this.order,
      most: this.#mostByLead(),
      shape: this.shape && [...this.shape],
      pins: Object.fromEntries(pins),
    };
  }

  #mostByLead(): number | Record<string, number> | null {
    const own = this.leads.filter(({ id }) => this.mostOf[id] !== undefined);
    if (own.length === 0) return this.most;
    return Object.fromEntries(
      this.leads.flatMap(({ id }): [string, number][] => {
        const most = this.mostOf[id] ?? this.most;
        return most === null ? [] : [[id, most]];
      }),
    );
  }

  #sign(): string {
    return JSON.stringify([this.#page.items, this.#page.service?.people]);
  }
}
