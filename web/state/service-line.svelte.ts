import {
  EasierKeys,
  Intervals,
  Keys,
  PlayedKeys,
  WordsSheets,
  type VoiceRow,
  type Interval,
  type Key,
  type PlayedKey,
} from '#music';
import type { ArrangedPass } from '#server/contract/music.ts';
import type { Member } from '#server/contract/members.ts';
import type { ServiceItem } from '#server/contract/services.ts';
import { isTempoOfFile } from './from-file.ts';
import { KeyFitState, type FitSong } from './key-fit.svelte.ts';
import { PassList, type PassesSource } from './pass-list.svelte.ts';
import { sayIn, type ServicePage } from './service.svelte.ts';
import { playerOf, readerOf, readingRole, singersOf } from './service-week.ts';

export interface LeadChoice {
  readonly member: Member;
  readonly isLead: boolean;
  /** How the song lies for them in its key; null: no range is known. */
  readonly row: VoiceRow | null;
}

/** Someone who can read the song in another key than it sounds in. */
export interface Reader {
  readonly member: Member;
  readonly choices: readonly PlayedKey[];
  /** null: reads what sounds. */
  readonly chosen: PlayedKey | null;
  /** A key that is easier for them, where none is chosen. */
  readonly offer: PlayedKey | null;
}

/** The nearer way from one tonic to another: a sixth up is a third down. */
function nearest(from: string, to: string): Interval {
  const up = Intervals.intervalUp(from, to);
  return up.semitones > 6 ? Intervals.plusOctaves(up, -1) : up;
}

/** A song of the order in hand: its key and who leads, weighed on this week's voices and hands. */
export class SongLine implements FitSong, PassesSource {
  readonly #page: ServicePage;
  readonly fit: KeyFitState;
  readonly form: PassList;

  constructor(page: ServicePage) {
    this.#page = page;
    this.fit = new KeyFitState(this, {
      get shown() {
        return page.members;
      },
      isWeek: true,
    });
    this.form = new PassList(this);
  }

  readonly item: ServiceItem | null = $derived.by(() => this.#page.line);
  readonly shelved = $derived.by(() => this.#page.shelf.find(this.item?.song ?? null));
  readonly score = $derived(this.shelved?.song.score ?? null);
  readonly writtenKey: Key | null = $derived(this.score?.keys[0]?.key ?? null);
  readonly usualKey: Key | null = $derived(this.shelved?.arrangement.key ?? this.writtenKey);
  readonly key: Key | null = $derived(this.item?.key ?? this.usualKey);
  readonly density = $derived(this.shelved?.arrangement.density ?? 'bar');
  readonly isFromFile = $derived(isTempoOfFile(this.shelved?.song));
  readonly lead: string | null = $derived.by(() => this.item && this.#page.leadOf(this.item));
  readonly arrangement = $derived.by(() => {
    if (!this.shelved) return null;
    const { members } = this.#page;
    return {
      singers: singersOf(members, this.lead).map(({ id }) => id),
      lead: this.lead,
      player: playerOf(this.shelved.arrangement, members),
      tempo: this.shelved.arrangement.tempo,
      form: this.ownForm ?? this.usualForm,
    };
  });
  readonly leads: readonly LeadChoice[] = $derived.by(() =>
    singersOf(this.#page.members, this.lead).map((member) => ({
      member,
      isLead: member.id === this.lead,
      row: this.fit.rows.find(({ voice }) => voice === member.id) ?? null,
    })),
  );
  readonly singing = $derived(this.leads.map(({ member }) => member));
  readonly ownForm = $derived(this.item?.form ?? null);
  readonly usualForm = $derived(this.shelved?.arrangement.form ?? null);

  readonly readers: readonly Reader[] = $derived.by(() => {
    const { key, item, score } = this;
    if (!key || !item || (score && WordsSheets.isWordsOnly(score))) return [];
    return this.#page.members.flatMap((member): Reader[] => {
      const role = readingRole(member);
      if (!role) return [];
      const choices = PlayedKeys.choices(key, member.instruments, role);
      const tonic = item.playedIn[member.id];
      const chosen = tonic ? PlayedKeys.of(key, tonic, member.instruments, role) : null;
      const offer = tonic ? null : EasierKeys.easierKey(key, readerOf(member, role));
      return choices.length > 0 ? [{ member, choices, chosen, offer }] : [];
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

  nameOf(member: string | null): string | null {
    return this.#page.nameOf(member);
  }

  setForm(form: readonly ArrangedPass[] | null, words: string): void {
    if (this.item) this.#page.changeItem(this.item.id, { form: form && [...form] }, words);
  }

  get #title(): string {
    return this.item ? this.#page.titleOf(this.item) : '';
  }
}
