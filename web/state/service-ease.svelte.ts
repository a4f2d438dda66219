import { Known, PartDifficulty, Parts, type KnownShape, type Part, type PlayedPart, type Player, type Role } from '#music'; // prettier-ignore
import { SvelteMap } from 'svelte/reactivity';
import type { Member } from '#server/contract/members.ts';
import { findKnown } from '#web/api/members.ts';
import type { SongLine } from './service-line.svelte.ts';
import type { LadderPlayer } from './service-rungs.svelte.ts';
import { readerOf } from './service-week.ts';
import type { ServicePage } from './service.svelte.ts';

/** So long nothing is worked out after a step: who climbs three at once waits for one. */
const SETTLED = 200;

/** What somebody at the keys plays of the song in hand as it stands now. */
export interface PlayedNow extends PlayedPart {
  /** What they have met. */
  readonly known: readonly KnownShape[];
  /** Empty where it cannot be played. */
  readonly said: string;
}

/** How hard the song in hand is for each keyboard player, with what they have met in the services that are over. */
export class ServiceEase {
  readonly #page: ServicePage;
  readonly #line: SongLine;
  readonly #known = new SvelteMap<string, readonly KnownShape[]>();
  readonly #now = new SvelteMap<string, PlayedNow | null>();
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(page: ServicePage, line: SongLine) {
    this.#page = page;
    this.#line = line;
  }

  /** What they have met: it changes only when a service is over. */
  async fetch(members: readonly Pick<Member, 'id'>[]): Promise<void> {
    for (const { id } of members) {
      if (this.#known.has(id)) continue;
      const answer = await findKnown(id);
      if (answer.ok) this.#known.set(id, answer.value.shapes);
    }
  }

  /** Anew, once the hand that changes steps is still. Reads all that it depends on at once. */
  weigh(players: readonly LadderPlayer[]): void {
    const waiting = players.map((player) => [player.member.id, this.#partOf(player)] as const);
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      for (const [id, work] of waiting) this.#now.set(id, work());
    }, SETTLED);
  }

  stop(): void {
    clearTimeout(this.#timer);
  }

  /** `For Ines it takes practice: bar 12, from C to E7 in one beat; …`; empty until it is known. */
  say(member: string): string {
    return this.now(member)?.said ?? '';
  }

  /** null: not worked out yet, or it cannot be played. */
  now(member: string): PlayedNow | null {
    return this.#now.get(member) ?? null;
  }

  /** What is to be worked out for somebody, with everything that it depends on read already: as their sheet is built. */
  #partOf({ member, own, usual }: LadderPlayer): () => PlayedNow | null {
    const { score, item, density, form, lead, readers, shelved } = this.#line;
    const key = item && this.#page.keyOf(item);
    const known = this.#known.get(member.id);
    if (!score || !item || !key || !shelved || !known) return () => null;
    const played = readers.find((reader) => reader.member.id === member.id)?.chosen;
    const roles: Role[] = this.#page.members.flatMap((each) => each.roles);
    const team = { roles, lead: this.#page.nameOf(lead) };
    const { tempo } = shelved.arrangement;
    // Of each pass its texture, its lead and its ending.
    const arrangement = { key: played?.plays ?? key, tempo, density, form: form.passes };
    const { id, name, reach, instruments, comfortable: voice } = member;
    const { level } = readerOf(member, 'keys');
    const player: Player = { id, name, role: 'keys', level, reach, instruments, voice, rungs: { ...usual, ...own } }; // prettier-ignore
    return () => {
      const built = Parts.build(score, arrangement, player, team);
      if (!built.ok) return null;
      const part = built.value;
      const song = item.id;
      const difficulty = PartDifficulty.of(part, level === 'advanced' ? allOf(part) : known);
      return { song, part, known, said: PartDifficulty.say(difficulty, name) };
    };
  }
}

/** An advanced player has met every chord somewhere, if not in a service here: no shape is new to them. */
const allOf = (part: Part): KnownShape[] => Known.of([{ song: '', part }]);
