import { zipSync } from 'fflate';
import type { PacketQuery } from '../../contract/packets.ts';
import { SizedCache } from '../../render/sized-cache.ts';
import type { TeamRooms, TeamStore } from '../../store/store.ts';
import { findServicePlans, noSuchPerson } from '../find-pages.ts';
import { contentTag } from '../kept-answers.ts';
import type { PersonPlan } from '../make-pages.ts';
import { Refusal } from '../refusal.ts';
import type { See } from '../shown-names.ts';
import { Jobs, TooMany, type Tell, type Waiter } from './jobs.ts';
import { makePacket, stepsOf, type PacketMakers } from './make-packet.ts';

/** A file that is ready to be sent. */
export interface PacketFile {
  readonly bytes: Buffer;
  readonly type: 'application/pdf' | 'application/zip';
  /** `Ruth, Sunday service, 2026-11-29.pdf`. */
  readonly name: string;
  readonly etag: string;
}

export interface PacketWish {
  readonly service: string;
  /** Whose packet; null: everybody's, in a zip. */
  readonly member: string | null;
  readonly query: PacketQuery;
  readonly see: See;
}

/** Whose rows are asked, and the count of their changes as the request found it; null: it is asked for. */
export interface PacketsOf {
  readonly team: TeamStore;
  readonly stamp: number | null;
}

/** Bytes of finished packets that are kept: a team's packets of a service in all sizes come to some ten million. */
const KEPT = 32_000_000;
/** Pieces of work that may wait, the one that is done among them. */
const MOST = 24;
/** The first moment a zip can name: the same packets are the same bytes. PDFs are packed already. */
const ENTRY = { level: 0, mtime: new Date(1980, 0, 1) } as const;

function fileName(person: string, { service }: PersonPlan, ending: string): string {
  return `${[person, service.title, service.date].filter(Boolean).join(', ')}.${ending}`;
}

/** Names as files: a second of the same name is told apart. */
function freeName(taken: Readonly<Record<string, unknown>>, name: string): string {
  const safe = name.replaceAll(/[\p{Cc}<>:"/\\|?*]/gu, ' ');
  if (!(safe in taken)) return safe;
  for (let number = 2; ; number++) {
    const other = safe.replace(/\.pdf$/, ` (${number}).pdf`);
    if (!(other in taken)) return other;
  }
}

/**
 * Packets of a team, made one after another and kept under everything they depend on, the count of the team's changes
 * among it: nothing kept can be stale.
 */
export class Packets {
  readonly #makers: PacketMakers;
  readonly #teamId: string;
  readonly #kept = new SizedCache<PacketFile>(KEPT);
  readonly #jobs = new Jobs<PacketFile>(MOST);

  constructor(teamId: string, makers: PacketMakers) {
    this.#teamId = teamId;
    this.#makers = makers;
  }

  /**
   * The file, made where it is not kept.
   * @throws Refusal, and `Stopped` where the waiter left
   */
  async find(of: PacketsOf, wish: PacketWish, waiter: Waiter = {}): Promise<PacketFile> {
    const stamp = of.stamp ?? (await of.team.everyRequest.stamp());
    const key = this.#keyOf(stamp, wish);
    const kept = this.#kept.get(key);
    if (kept) return kept;
    try {
      return await this.#jobs.wait(key, waiter, (tell) => this.#make(of.team, stamp, wish, tell));
    } catch (error) {
      if (!(error instanceof TooMany)) throw error;
      throw new Refusal(
        'packets-busy',
        'Many packets are being made. Nothing is lost; ask for this packet again in a minute.',
      );
    }
  }

  /** Refuses what is not there, so that it is said before anything is made. */
  async require(of: PacketsOf, { service, member }: PacketWish): Promise<void> {
    await of.team.together((rooms) => plansOf(rooms, service, member));
  }

  #keyOf(stamp: number | null, { service, member, query, see }: PacketWish): string {
    const { paper, print, names, verse = null, played = '' } = query;
    return JSON.stringify([this.#teamId, stamp, service, member, paper, print, names, verse, played, see]); // prettier-ignore
  }

  async #make(
    team: TeamStore,
    stamp: number | null,
    wish: PacketWish,
    tell: Tell,
  ): Promise<PacketFile> {
    const plans = await team.together((rooms) => plansOf(rooms, wish.service, wish.member));
    const of = plans.reduce((sum, plan) => sum + stepsOf(plan), 0);
    let done = 0;
    tell({ done, of });
    const step = (by: number): void => tell({ done: (done += by), of });
    const files: Record<string, [Uint8Array, typeof ENTRY]> = {};
    for (const plan of plans) {
      const file = await this.#ofPerson(plan, stamp, wish, step);
      if (wish.member !== null) return file;
      files[freeName(files, file.name)] = [file.bytes, ENTRY];
    }
    const [first] = plans;
    if (!first) throw nobody();
    const name = fileName('Packets', first, 'zip');
    return this.#keep(this.#keyOf(stamp, wish), Buffer.from(zipSync(files)), name);
  }

  async #ofPerson(
    plan: PersonPlan,
    stamp: number | null,
    wish: PacketWish,
    step: (by: number) => void,
  ): Promise<PacketFile> {
    const key = this.#keyOf(stamp, { ...wish, member: plan.member.id });
    const kept = this.#kept.get(key);
    if (kept) {
      step(stepsOf(plan));
      return kept;
    }
    const { bytes, name } = await makePacket(this.#makers, plan, wish.query, wish.see, () => step(1)); // prettier-ignore
    return this.#keep(key, Buffer.from(bytes), fileName(name, plan, 'pdf'));
  }

  #keep(key: string, bytes: Buffer, name: string): PacketFile {
    const type = name.endsWith('.zip') ? 'application/zip' : 'application/pdf';
    const file = { bytes, type, name, etag: contentTag(bytes) } as const;
    this.#kept.set(key, file, bytes.length);
    return file;
  }
}

function nobody(): Refusal {
  return new Refusal(
    'not-possible',
    'Nobody serves there this week, so there are no packets. Put people into the service first.',
  );
}

async function plansOf(
  rooms: TeamRooms,
  service: string,
  member: string | null,
): Promise<PersonPlan[]> {
  const plans = await findServicePlans(rooms, service);
  if (member === null) {
    if (plans.length === 0) throw nobody();
    return plans;
  }
  const own = plans.filter((plan) => plan.member.id === member);
  if (own.length === 0) throw noSuchPerson();
  return own;
}
