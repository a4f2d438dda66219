import {
  Form,
  Intervals,
  Keys,
  PlayedKeys,
  type FitRow,
  type Interval,
  type Key,
  type PlayedKey,
  type Texture,
} from '#music';
import type { ArrangedPass } from '#server/contract/music.ts';
import type { Member } from '#server/contract/members.ts';
import type { ServiceItem } from '#server/contract/services.ts';
import { KeyFitState, type FitSong } from './key-fit.svelte.ts';
import { sayIn, type ServicePage } from './service.svelte.ts';
import { swapped } from './service-order.ts';
import { playerOf, readingRole, singersOf } from './service-week.ts';

export const TEXTURES: readonly Texture[] = ['held', 'leading', 'every beat'];

export interface LeadChoice {
  readonly member: Member;
  readonly isLead: boolean;
  /** How the song lies for them in its key; null: no range is known. */
  readonly row: FitRow | null;
}

export interface ShownPass {
  readonly name: string;
  readonly texture: Texture;
  /** Id of who leads it; null: who leads the song. */
  readonly lead: string | null;
}

/** Someone who can read the song in another key than it sounds in. */
export interface Reader {
  readonly member: Member;
  readonly choices: readonly PlayedKey[];
  /** null: reads what sounds. */
  readonly chosen: PlayedKey | null;
}

/** The nearer way from one tonic to another: a sixth up is a third down. */
function nearest(from: string, to: string): Interval {
  const up = Intervals.intervalUp(from, to);
  return up.semitones > 6 ? Intervals.plusOctaves(up, -1) : up;
}

/** A song of the order in hand: its key and who leads, weighed on this week's voices and hands. */
export class SongLine implements FitSong {
  readonly #page: ServicePage;
  readonly fit: KeyFitState;

  constructor(page: ServicePage) {
    this.#page = page;
    this.fit = new KeyFitState(this, {
      get shown() {
        return page.members;
      },
    });
  }

  readonly item: ServiceItem | null = $derived.by(() => this.#page.line);
  readonly shelved = $derived.by(() => this.#page.shelf.find(this.item?.song ?? null));
  readonly score = $derived(this.shelved?.song.score ?? null);
  readonly writtenKey: Key | null = $derived(this.score?.keys[0]?.key ?? null);
  readonly usualKey: Key | null = $derived(this.shelved?.arrangement.key ?? this.writtenKey);
  readonly key: Key | null = $derived(this.item?.key ?? this.usualKey);
  readonly density = $derived(this.shelved?.arrangement.density ?? 'bar');
  readonly lead: string | null = $derived.by(() => this.item && this.#page.leadOf(this.item));
  readonly arrangement = $derived.by(() => {
    if (!this.shelved) return null;
    const { members } = this.#page;
    return {
      singers: singersOf(members, this.lead).map(({ id }) => id),
      lead: this.lead,
      player: playerOf(this.shelved.arrangement, members),
      tempo: this.shelved.arrangement.tempo,
    };
  });
  readonly leads: readonly LeadChoice[] = $derived.by(() =>
    singersOf(this.#page.members, this.lead).map((member) => ({
      member,
      isLead: member.id === this.lead,
      row: this.fit.rows.find(({ voice }) => voice === member.id) ?? null,
    })),
  );
  /** Who can lead a pass: this week's singers, and who was chosen before and sings no more. */
  readonly passLeads: readonly { readonly id: string; readonly name: string }[] = $derived.by(
    () => {
      const chosen = this.passes.flatMap(({ lead }) => lead ?? []);
      const ids = new Set([...this.leads.map(({ member }) => member.id), ...chosen]);
      return [...ids].map((id) => ({ id, name: this.#page.nameOf(id) ?? 'no longer here' }));
    },
  );
  readonly passes: readonly ArrangedPass[] = $derived.by(() => {
    if (!this.score) return [];
    return (
      this.item?.form ??
      this.shelved?.arrangement.form ??
      Form.passesOf(this.score).map(({ pass }) => pass)
    );
  });
  readonly shownPasses: readonly ShownPass[] = $derived.by(() =>
    this.passes.map((pass) => ({
      name: this.#nameOf(pass),
      texture: pass.texture ?? 'held',
      lead: pass.lead ?? null,
    })),
  );
  /** Every section, each verse of it by itself, as can be put into the form. */
  readonly sections: readonly { readonly name: string; readonly pass: ArrangedPass }[] =
    $derived.by(() => {
      const { score } = this;
      if (!score) return [];
      const own = Form.passesOf(score).map(({ pass }) => pass);
      const more = score.sections.flatMap(({ id, kind }): ArrangedPass[] =>
        kind === 'verse' && score.verses.length > 0
          ? score.verses.map(({ number }) => ({ section: id, verse: number }))
          : own.some(({ section }) => section === id)
            ? []
            : [{ section: id, verse: null }],
      );
      const named = new Map<string, ArrangedPass>();
      for (const { section, verse } of [...own, ...more]) {
        const name = this.#nameOf({ section, verse });
        if (!named.has(name)) named.set(name, { section, verse });
      }
      return [...named].map(([name, pass]) => ({ name, pass }));
    });

  readonly readers: readonly Reader[] = $derived.by(() => {
    const { key, item } = this;
    if (!key || !item) return [];
    return this.#page.members.flatMap((member): Reader[] => {
      const role = readingRole(member);
      if (!role) return [];
      const choices = PlayedKeys.choices(key, member.instruments, role);
      const tonic = item.playedIn[member.id];
      const chosen = tonic ? PlayedKeys.of(key, tonic, member.instruments, role) : null;
      return choices.length > 0 ? [{ member, choices, chosen }] : [];
    });
  });

  /** `Home key D major. Usually in F major, up a third. This Sunday in E♭ major: up a half step from home, …` */
  distance(day: string): string {
    const [home, usual, here] = [this.writtenKey, this.usualKey, this.key];
    if (!home || !usual || !here) return '';
    const move = (from: Key, to: Key) => Intervals.sayMove(nearest(from.tonic, to.tonic));
    const words = [`Home key ${Keys.sayKey(home)}.`];
    if (!Keys.sameKey(home, usual))
      words.push(`Usually in ${Keys.sayKey(usual)}, ${move(home, usual)}.`);
    if (!Keys.sameKey(usual, here)) {
      const fromUsual = Keys.sameKey(home, usual) ? '' : ` and ${move(usual, here)} from the usual`;
      const fromHome = Keys.sameKey(home, here)
        ? 'the home key itself'
        : `${move(home, here)} from home`;
      words.push(`${day} in ${Keys.sayKey(here)}, ${fromHome}${fromUsual}.`);
    }
    return words.join(' ');
  }

  choose(key: Key | null): void {
    const to = key ?? this.usualKey;
    if (!this.item || !to || !this.#title) return;
    if (key && this.key && Keys.sameKey(key, this.key) && this.item.key) return;
    this.#page.changeItem(this.item.id, { key }, `${sayIn(this.#title, to)}.`);
  }

  /** Called by the fit: in a service it is the line that says who leads. */
  arrange(): void {
    // What is usual is changed on the page of the song.
  }

  leadsIt(member: Member): void {
    if (!this.item || !this.#title) return;
    this.#page.changeItem(
      this.item.id,
      { lead: member.id },
      `${member.name} leads ${this.#title}.`,
    );
  }

  /** @param tonic null: what sounds */
  readIn(member: Member, tonic: string | null): void {
    if (!this.item) return;
    const { [member.id]: _gone, ...playedIn } = this.item.playedIn;
    const words = `${member.name} reads ${this.#title} ${tonic ? `in ${Keys.sayNote(tonic)}` : 'as it sounds'}.`;
    const change = { playedIn: tonic ? { ...playedIn, [member.id]: tonic } : playedIn };
    this.#page.changeItem(this.item.id, change, words);
  }

  setTexture(at: number, texture: Texture): void {
    const pass = this.passes[at];
    if (!pass) return;
    this.#setForm(this.passes.with(at, { ...pass, texture }), `${this.#nameOf(pass)}: ${texture}.`);
  }

  /** @param member null: who leads the song */
  setLead(at: number, member: string | null): void {
    const pass = this.passes[at];
    if (!pass) return;
    const { lead: _, ...rest } = pass;
    const who =
      member === null ? 'led as usual' : `${this.#page.nameOf(member) ?? 'somebody'} leads`;
    const changed = member === null ? rest : { ...rest, lead: member };
    this.#setForm(this.passes.with(at, changed), `${this.#nameOf(pass)}: ${who}.`);
  }

  movePass(at: number, by: -1 | 1): void {
    this.#setForm(swapped(this.passes, at, by), 'The passes are in another order.');
  }

  removePass(at: number): void {
    const pass = this.passes[at];
    if (!pass || this.passes.length < 2) return;
    this.#setForm(this.passes.toSpliced(at, 1), `${this.#nameOf(pass)} is left out.`);
  }

  addPass(pass: ArrangedPass): void {
    this.#setForm([...this.passes, pass], `${this.#nameOf(pass)} comes at the end.`);
  }

  asUsual(): void {
    this.#setForm(null, 'The passes are as usual.');
  }

  get #title(): string {
    return this.item ? this.#page.titleOf(this.item) : '';
  }

  #setForm(form: readonly ArrangedPass[] | null, words: string): void {
    if (this.item) this.#page.changeItem(this.item.id, { form: form && [...form] }, words);
  }

  #nameOf({ section, verse }: ArrangedPass): string {
    const found = this.score?.sections.find(({ id }) => id === section);
    if (!found) return 'a section that the song has no more';
    return found.kind === 'verse' && verse !== null ? `${found.name} ${verse}` : found.name;
  }
}
