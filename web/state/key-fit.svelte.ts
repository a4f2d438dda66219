import { Difficulty, KeyFit, Keys, Parts } from '#music';
import type { FrontRow, Key, KeyFitFront, KeyFitTable, Score, Singer, VoiceRow } from '#music';
import type { Arrangement, ArrangementChange } from '#server/contract/arrangements.ts';
import type { Member } from '#server/contract/members.ts';

/** A song as it is done: usually, or in one service. */
export interface FitSong {
  readonly score: Score | null;
  readonly writtenKey: Key | null;
  readonly key: Key | null;
  readonly density: Arrangement['density'];
  readonly arrangement: Pick<Arrangement, 'singers' | 'lead' | 'player' | 'tempo'> | null;
  arrange(change: ArrangementChange): void;
}

/** Whose voices and hands there are, in the order they are shown. */
export interface FitPeople {
  readonly shown: readonly Member[];
}

/** Which key suits this week's voices and hands: all of it worked out here, nothing asked of the server. */
export class KeyFitState {
  /** Whether the room sings too, and counts. */
  room = $state(true);
  readonly #page: FitSong;
  readonly #people: FitPeople;

  constructor(page: FitSong, people: FitPeople) {
    this.#page = page;
    this.#people = people;
  }

  readonly chosen: readonly Member[] = $derived.by(() => {
    const ids = this.#page.arrangement?.singers ?? [];
    return this.#people.shown.filter((member) => ids.includes(member.id));
  });
  /** Who leads, as the page shows it: the one named, else the first whose range is known. */
  readonly lead: string | null = $derived.by(
    () => this.#page.arrangement?.lead ?? KeyFit.leadOf(KeyFit.voicesOf(this.chosen, null), null),
  );
  /** Who can be chosen to play: those at the keys, and the one who was chosen whatever else they do now. */
  readonly players: readonly Member[] = $derived.by(() =>
    this.#people.shown.filter(
      ({ id, roles }) => roles.includes('keys') || id === this.#page.arrangement?.player,
    ),
  );
  /** The member for whose hands the page is laid out; null: whoever plays. */
  readonly player: Member | null = $derived.by(() => {
    const id = this.#page.arrangement?.player;
    return this.#people.shown.find((member) => member.id === id) ?? null;
  });
  readonly singers: readonly Singer[] = $derived.by(() =>
    KeyFit.voicesOf(this.chosen, this.room ? undefined : null),
  );
  readonly table: KeyFitTable | null = $derived.by(() => {
    const { score } = this.#page;
    return score && this.singers.length > 0 ? KeyFit.table(score, this.singers) : null;
  });
  readonly front: KeyFitFront | null = $derived.by(() => {
    if (!this.table) return null;
    const lead = KeyFit.leadOf(this.singers, this.#page.arrangement?.lead ?? null) ?? '';
    return KeyFit.front(this.table, { lead, handCost: (key) => this.#hands(key) });
  });
  /** The rows of the key on the screen, voice by voice. */
  readonly rows: readonly VoiceRow[] = $derived.by(() => {
    const { key } = this.#page;
    return key && this.table
      ? KeyFit.rowsOf(this.table).filter((row) => Keys.sameKey(row.key, key))
      : [];
  });
  readonly current: FrontRow | null = $derived.by(() => {
    const { key } = this.#page;
    return (key && this.front?.rows.find((row) => Keys.sameKey(row.key, key))) || null;
  });

  /** What the hands do in the key on the screen, and how that compares with the written one; sentences. */
  readonly handWords: readonly string[] = $derived.by(() => {
    const { key, writtenKey } = this.#page;
    if (!key || !writtenKey) return [];
    const [here, written] = [this.#hands(key), this.#hands(writtenKey)];
    if (!here) return [];
    if (Keys.sameKey(key, writtenKey) || !written) return [here.sentence];
    return [here.sentence, Difficulty.compare(here, written)];
  });

  sings(member: Member, on: boolean): void {
    const { arrangement } = this.#page;
    if (!arrangement) return;
    const others = arrangement.singers.filter((id) => id !== member.id);
    const lead = on ? arrangement.lead : arrangement.lead === member.id ? null : arrangement.lead;
    this.#page.arrange({ singers: on ? [...others, member.id] : others, lead });
  }

  /** @param member null: whoever plays */
  plays(member: Member | null): void {
    this.#page.arrange({ player: member?.id ?? null });
  }

  leads(member: Member): void {
    this.#page.arrange({ lead: member.id });
  }

  /** By itself, so that another key alone does not work out the hands anew. */
  readonly #tempo = $derived.by(() => this.#page.arrangement?.tempo ?? null);
  readonly #playing = $derived.by(() =>
    Parts.playerFor(this.#people.shown, { player: this.#page.arrangement?.player ?? null }),
  );
  /** Each by itself, so that another range or role of a member does not either. */
  readonly #name = $derived(this.#playing.name);
  readonly #reach = $derived(this.#playing.reach);
  /** What the printed part asks of the hands, for any key. */
  readonly #costIn = $derived.by(() => {
    const { score, density } = this.#page;
    const player = { name: this.#name, reach: this.#reach };
    return score && Parts.handCosts(score, { tempo: this.#tempo, density }, player);
  });

  #hands(key: Key) {
    const cost = this.#costIn?.(key);
    return cost?.ok ? cost : null;
  }
}
