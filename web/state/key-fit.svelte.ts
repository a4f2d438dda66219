import { Intervals, KeyFit, Keys, Transpose } from '#music';
import type { FrontRow, Key, KeyFitFront, KeyFitTable, Score, Singer, VoiceRow } from '#music';
import type { Arrangement, ArrangementChange } from '#server/contract/arrangements.ts';
import type { Member } from '#server/contract/members.ts';
import { FitPlayers } from './fit-players.svelte.ts';
import { SingersFit, type AskedOctaves } from './singers-fit.svelte.ts';
import { ourTeam } from './team.svelte.ts';

/** A song as it is done: usually, or in one service. */
export interface FitSong {
  readonly score: Score | null;
  readonly writtenKey: Key | null;
  readonly key: Key | null;
  readonly density: Arrangement['density'];
  readonly arrangement: Pick<Arrangement, 'singers' | 'lead' | 'player' | 'tempo' | 'form'> | null;
  /** The key it is usually done in, where another one is looked for. */
  readonly usualKey?: Key | null;
  /** Its own tempo is that of a file, which nobody confirmed. Missing: it is not. */
  readonly isFromFile?: boolean;
  arrange(change: ArrangementChange): void;
}

/** Whose voices and hands there are, in the order they are shown. */
export interface FitPeople {
  readonly shown: readonly Member[];
  /** They all serve this week; missing: it is not said who is there. */
  readonly isWeek?: true;
}

/** Which key suits this week's voices and hands: all of it worked out here, nothing asked of the server. */
export class KeyFitState {
  /** Whether the room sings too, and counts. */
  room = $state(true);
  /** Octaves that are tried here, by singer; whoever is missing takes the one that lies better. */
  octaves = $state.raw<AskedOctaves>({});
  readonly #page: FitSong;
  readonly #people: FitPeople;
  readonly players: FitPlayers;
  readonly sung: SingersFit;

  constructor(page: FitSong, people: FitPeople) {
    this.#page = page;
    this.#people = people;
    this.sung = new SingersFit(page, this);
    const player = () => this.player;
    const played = () => this.#played;
    this.players = new FitPlayers({
      get score() {
        return page.score;
      },
      get key() {
        return page.key;
      },
      get played() {
        return played();
      },
      get player() {
        return player();
      },
      get members() {
        return people.shown;
      },
      get isWeek() {
        return people.isWeek === true;
      },
    });
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
  readonly atKeys: readonly Member[] = $derived.by(() =>
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
    KeyFit.voicesOf(this.chosen, this.room ? ourTeam.congregation : null),
  );
  readonly table: KeyFitTable | null = $derived.by(() => {
    const { score } = this.#page;
    return score && this.singers.length > 0
      ? KeyFit.table(score, this.singers, { octaves: this.octaves, form: this.#form })
      : null;
  });
  readonly front: KeyFitFront | null = $derived.by(() => {
    if (!this.table) return null;
    const lead = KeyFit.leadOf(this.singers, this.#page.arrangement?.lead ?? null) ?? '';
    const usual = this.#page.usualKey ?? null;
    return KeyFit.front(this.table, { lead, usual, players: (key) => this.players.in(key) });
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

  /** What the key on the screen asks of each player who counts; sentences. */
  readonly handWords: readonly string[] = $derived.by(() => {
    const { key } = this.#page;
    if (!key) return [];
    return this.players
      .in(key)
      .flatMap(({ sentence, instead }) =>
        instead ? [sentence, `Or ${instead.phrase}.`] : [sentence],
      );
  });

  /** `Home key D major. Usually in F major, up a third.` */
  readonly distance: string = $derived.by(() => {
    const { key, writtenKey } = this.#page;
    if (!key || !writtenKey) return '';
    const home = `Home key ${Keys.sayKey(writtenKey)}.`;
    if (Keys.sameKey(key, writtenKey)) return `${home} Usually in it.`;
    const way = Intervals.sayMove(Transpose.interval(writtenKey, key));
    return `${home} Usually in ${Keys.sayKey(key)}, ${way}.`;
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

  /** By itself, so that another key alone does not weigh the players anew. */
  readonly #tempo = $derived.by(() => this.#page.arrangement?.tempo ?? null);
  readonly #form = $derived.by(() => this.#page.arrangement?.form ?? null);
  readonly #density = $derived.by(() => this.#page.arrangement && this.#page.density);
  readonly #played = $derived(
    this.#density && { tempo: this.#tempo, density: this.#density, form: this.#form },
  );
}
