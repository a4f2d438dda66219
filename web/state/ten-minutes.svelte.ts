import {
  Keys,
  Leads,
  NumberWords,
  Stands,
  type LinePages,
  type Mishap,
  type Mishaps,
  type Range,
  type StandPlan,
} from '#music';
import type { Member } from '#server/contract/members.ts';
import { DevicePlanner } from '#web/plan/planner.ts';
import type { ServicePage } from './service.svelte.ts';
import { changeOf, standServiceOf } from './stand-service.ts';
import { rowsOf, type StandRow } from './ten-minutes-rows.ts';
import { steppedRange } from './voice-steps.ts';

/** What was said of somebody; the ends of a voice by steps, up above zero. */
export type Said =
  | { readonly kind: 'away' | 'silent' }
  | { readonly kind: 'voice'; readonly low: number; readonly high: number };

/** What plans without the network; only tests replace it. */
export type PlansStands = Pick<DevicePlanner, 'stands' | 'leastChange' | 'close'>;

/** Who is missing or sings less this morning, and how the service goes on with the least change on the stands. */
export class TenMinutes {
  readonly #page: ServicePage;
  readonly #planner: PlansStands;
  open = $state(false);
  /** By member. */
  said = $state.raw<Readonly<Record<string, Said>>>({});
  plan = $state.raw<StandPlan | null>(null);
  /** Song by song, as it becomes known what changes. */
  #pages = $state.raw<readonly LinePages[]>([]);
  state = $state<'nothing' | 'asking' | 'planned' | 'told' | 'failed'>('nothing');
  /** ms from the tap to the plan, and until every changed bar is known. */
  took = $state.raw<{ readonly plan: number; readonly all: number } | null>(null);
  /** Orders that the plan speaks of: the one it was made for, and those that were taken from it. */
  #known = $state.raw<readonly string[]>([]);
  /** The service as it stands once all of it is taken. */
  #taken = $state<string | null>(null);
  /** Who was there, and with which voice, when the first thing was said. */
  #present = $state.raw<readonly Member[]>([]);
  /** What the plan was made for. */
  #mishaps: Mishaps = {};
  #question = 0;

  constructor(page: ServicePage, planner: PlansStands = new DevicePlanner()) {
    this.#page = page;
    this.#planner = planner;
  }

  /** All of it stands in the service. */
  readonly isTaken = $derived.by(() => this.#taken !== null && this.#taken === this.#sign());
  /** All of it was taken; somebody may have changed the service since. */
  readonly isDone = $derived.by(() => this.#taken !== null);
  readonly people: readonly Member[] = $derived.by(() =>
    Object.keys(this.said).length === 0 ? this.#page.members : this.#present,
  );
  readonly isReady = $derived.by(() => standServiceOf(this.#page) !== null);
  readonly rows: readonly StandRow[] = $derived.by(() =>
    this.plan ? rowsOf(this.plan, this.#pages, this.#page) : [],
  );
  /** What everybody is told, once all is known; who has something to hear first. */
  readonly told = $derived.by(() => {
    if (!this.plan || this.state !== 'told') return [];
    const isOthers = Object.values(this.#mishaps).some(({ kind }) => kind !== 'voice');
    const all = Stands.tell(this.plan.people, this.#pages, isOthers ? 'others' : 'the same');
    return all.toSorted((a, b) => Number(b.isTouched) - Number(a.isTouched));
  });
  /** Somebody changed the service by other ways since. */
  readonly isOld = $derived.by(() => this.plan !== null && !this.#known.includes(this.#sign()));
  /** `Dora cannot come and Ada sings up to A4`. */
  readonly words = $derived.by(() =>
    NumberWords.listed(
      Object.entries(this.#mishapsNow()).map(([id, mishap]) => this.#say(id, mishap)),
    ),
  );

  /** The panel is opened: what everybody has is worked out meanwhile. */
  show(): void {
    this.open = true;
    const service = standServiceOf(this.#page);
    if (service) this.#planner.stands(service);
  }

  saidOf(member: string): Said | null {
    return this.said[member] ?? null;
  }

  /** This week's range of somebody as it is said here; null: nothing is known or said. */
  rangeOf({ id, comfortable }: Member): Range | null {
    const said = this.saidOf(id);
    if (!comfortable) return null;
    return said?.kind === 'voice' ? steppedRange(comfortable, said.low, said.high) : comfortable;
  }

  /** One tap: it is said, and the service is planned anew. @param said null: nothing happened to them after all */
  say(member: string, said: Said | null): Promise<void> {
    const { [member]: _before, ...others } = this.said;
    if (Object.keys(others).length === 0) this.#present = this.#page.members;
    this.#taken = null;
    this.said = said === null ? others : { ...others, [member]: said };
    return this.ask();
  }

  /** Moves an end of somebody's voice by steps; nothing where no note would be left. */
  async step(member: Member, end: 'low' | 'high', by: number): Promise<void> {
    const before = this.saidOf(member.id);
    const ends = before?.kind === 'voice' ? before : { kind: 'voice' as const, low: 0, high: 0 };
    const said = { ...ends, [end]: ends[end] + by };
    if (!member.comfortable || !steppedRange(member.comfortable, said.low, said.high)) return;
    await this.say(member.id, said.low === 0 && said.high === 0 ? null : said);
  }

  async ask(): Promise<void> {
    const service = standServiceOf(this.#page);
    const question = (this.#question += 1);
    const mishaps = this.#mishapsNow();
    this.plan = null;
    this.#pages = [];
    this.state = 'nothing';
    if (!service || Object.keys(mishaps).length === 0) return;
    this.state = 'asking';
    const start = performance.now();
    const since = () => Math.round(performance.now() - start);
    const sign = this.#sign();
    const isLast = () => question === this.#question;
    this.#planner.stands(service);
    try {
      await this.#planner.leastChange(mishaps, {
        onplan: (plan) => {
          if (!isLast()) return;
          [this.plan, this.state, this.#known] = [plan, 'planned', [sign]];
          this.#mishaps = mishaps;
          this.took = { plan: since(), all: since() };
        },
        onpages: (pages) => {
          if (isLast()) this.#pages = [...this.#pages, pages];
        },
        ontold: () => {
          if (!isLast()) return;
          this.state = 'told';
          this.took = { plan: this.took?.plan ?? since(), all: since() };
        },
      });
    } catch {
      if (isLast()) this.state = 'failed';
    }
  }

  /** Puts the plan into the service, in one step. @param only one line of it, with who is missing; null: all */
  take(only: string | null = null): void {
    const { plan } = this;
    if (!plan) return;
    const serving: Leads.Serving[] = plan.people.map(({ id, roles }) => ({ id, roles }));
    const change = changeOf(
      plan,
      this.#mishaps,
      this.#page,
      (item) =>
        Leads.leadOf(
          item.lead,
          this.#page.shelf.find(item.song)?.arrangement.lead ?? null,
          serving,
        ),
      only,
    );
    const words = `${this.words}: the service goes on as planned.`;
    if (only !== null) this.#page.change(change, words);
    else {
      this.#page.change(change, words, () => this.#forget());
      // What was taken stands in the service: it would happen a second time.
      this.said = {};
      this.#taken = this.#sign();
    }
    this.#known = [...this.#known, this.#sign()];
  }

  /** What was said is done with; something else may have happened. */
  clear(): void {
    this.#forget();
    this.show();
  }

  /** The page is left. */
  leave(): void {
    this.#planner.close();
  }

  #forget(): void {
    this.said = {};
    this.#taken = null;
    void this.ask();
  }

  #mishapsNow(): Mishaps {
    const found = Object.entries(this.said).flatMap(([id, said]): [string, Mishap][] => {
      if (said.kind !== 'voice') return [[id, { kind: said.kind }]];
      const comfortable = this.#present.find((member) => member.id === id)?.comfortable;
      const range = comfortable ? steppedRange(comfortable, said.low, said.high) : null;
      return range ? [[id, { kind: 'voice', range }]] : [];
    });
    return Object.fromEntries(found);
  }

  #say(id: string, mishap: Mishap): string {
    const name = this.#page.nameOf(id) ?? 'somebody';
    if (mishap.kind === 'away') return `${name} cannot come`;
    if (mishap.kind === 'silent') return `${name} cannot sing`;
    return `${name} sings ${Keys.sayNote(mishap.range.low)} to ${Keys.sayNote(mishap.range.high)}`;
  }

  #sign(): string {
    return JSON.stringify([this.#page.items, this.#page.service?.people]);
  }
}
