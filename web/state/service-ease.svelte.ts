import { Parts, PartDifficulty, type KnownShape, type Player, type Role } from '#music';
import { SvelteMap } from 'svelte/reactivity';
import type { Member } from '#server/contract/members.ts';
import { findKnown } from '#web/api/members.ts';
import type { SongLine } from './service-line.svelte.ts';
import type { LadderPlayer } from './service-rungs.svelte.ts';
import type { ServicePage } from './service.svelte.ts';

/** So long nothing is worked out after a step: who climbs three at once waits for one. */
const SETTLED = 200;

/** How hard the song in hand is for each keyboard player, with what they have met in the services that are over. */
export class ServiceEase {
  readonly #page: ServicePage;
  readonly #line: SongLine;
  readonly #known = new SvelteMap<string, readonly KnownShape[]>();
  readonly #said = new SvelteMap<string, string>();
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
      for (const [id, work] of waiting) this.#said.set(id, work());
    }, SETTLED);
  }

  stop(): void {
    clearTimeout(this.#timer);
  }

  /** `For Ines it takes practice: bar 12, from C to E7 in one beat; …`; empty until it is known. */
  say(member: string): string {
    return this.#said.get(member) ?? '';
  }

  /** What is to be worked out for somebody, with everything that it depends on read already. */
  #partOf({ member, own, usual }: LadderPlayer): () => string {
    const { score, key, density, form, readers, shelved } = this.#line;
    const known = this.#known.get(member.id);
    if (!score || !key || !shelved || !known) return () => '';
    const played = readers.find((reader) => reader.member.id === member.id)?.chosen;
    const roles: Role[] = this.#page.members.flatMap((each) => each.roles);
    const { tempo } = shelved.arrangement;
    const arrangement = { key: played?.plays ?? key, tempo, density, form: form.passes };
    const { id, name, level, reach, instruments } = member;
    const player: Player = { id, name, role: 'keys', level, reach, instruments, rungs: { ...usual, ...own } }; // prettier-ignore
    return () => {
      const built = Parts.build(score, arrangement, player, { roles });
      return built.ok ? PartDifficulty.say(PartDifficulty.of(built.value, known), name) : '';
    };
  }
}
