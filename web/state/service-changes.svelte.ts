import { BarsChanged, Parts, PlayedKeys, Rungs, type Player, type Role } from '#music';
import type { Member } from '#server/contract/members.ts';
import type { ServiceItem } from '#server/contract/services.ts';
import type { ServicePage } from './service.svelte.ts';

/** So long nothing is worked out after a change: who takes two people out waits once. */
const SETTLED = 300;

/** The roles that change what stands in a keyboard part. */
const HEARD = ['bass', 'drums'] as const;

/** What one song has to say, worked out when its turn comes. */
type Work = () => string;

export interface SaidChanges {
  /** `Without the bass, at the keys:` */
  readonly head: string;
  /** A sentence for each song that has parts, in the order of the service. */
  readonly songs: readonly string[];
}

/**
 * What it changes at the keys when a bass or drums come or go, against the team as the page was opened with: for those who
 * were at the keys then and still are, song by song. Once the team is as it was, nothing is said.
 */
export class ServiceChanges {
  readonly #page: ServicePage;
  #before: readonly Member[] | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  said = $state.raw<SaidChanges | null>(null);

  constructor(page: ServicePage) {
    this.#page = page;
  }

  /** Anew, once nobody comes or goes any more. Reads all that it depends on at once. */
  follow(): void {
    const { service, members, items } = this.#page;
    this.stop();
    if (!service) return;
    this.#before ??= members;
    const [was, now] = [rolesOf(this.#before), rolesOf(members)];
    const head = sayTeam(was, now);
    if (head === '') {
      this.said = null;
      return;
    }
    const before = this.#before;
    const players = members.filter((member) => before.some((each) => isAtKeys(each, member)));
    const waiting = items.map((item) => this.#songOf(item, players, was, now));
    this.#timer = setTimeout(() => this.#next(head, waiting, []), SETTLED);
  }

  stop(): void {
    clearTimeout(this.#timer);
  }

  /** One song at a time, so that the page answers in between. */
  #next(head: string, [work, ...others]: readonly Work[], songs: readonly string[]): void {
    if (!work) {
      this.said = songs.length > 0 ? { head, songs } : null;
      return;
    }
    const words = work();
    const done = words === '' ? songs : [...songs, words];
    this.#timer = setTimeout(() => this.#next(head, others, done), 0);
  }

  /** What is to be worked out of a line of the order, with everything that it depends on read already. */
  #songOf(
    item: ServiceItem,
    players: readonly Member[],
    was: readonly Role[],
    now: readonly Role[],
  ): Work {
    const shelved = this.#page.shelf.find(item.kind === 'song' ? item.song : null);
    const key = this.#page.keyOf(item);
    if (!shelved || !key || shelved.song.score.untimed) return () => '';
    const { score } = shelved.song;
    const title = this.#page.titleOf(item);
    const { tempo, density, form: usual } = shelved.arrangement;
    const sections = new Set(score.sections.map(({ id }) => id));
    const form = (item.form ?? usual)?.filter(({ section }) => sections.has(section));
    const arrangement = { key, tempo, density, form: form?.length ? form : null };
    return () => {
      const found = players.flatMap((member) => {
        const tonic = item.playedIn[member.id];
        const played = tonic ? PlayedKeys.of(key, tonic, member.instruments, 'keys') : null;
        const player = playerOf(member, item);
        const own = { ...arrangement, key: played?.plays ?? key };
        const before = Parts.build(score, own, player, { roles: was });
        const after = Parts.build(score, own, player, { roles: now });
        if (!before.ok || !after.ok) return [];
        const hands = BarsChanged.barsChanged(before.value, after.value);
        return [BarsChanged.sayBarsChanged(member.name, after.value, hands)];
      });
      if (found.length === 0) return '';
      const changed = found.filter((words) => words !== '');
      return `${title}: ${changed.length > 0 ? changed.join('; ') : 'nothing changes'}.`;
    };
  }
}

function isAtKeys(was: Member, now: Member): boolean {
  return was.id === now.id && [was, now].every(({ roles }) => roles.includes('keys'));
}

function rolesOf(members: readonly Member[]): Role[] {
  return members.flatMap(({ roles }) => roles);
}

/** At the keys, on the steps of this line of the order. */
function playerOf(member: Member, { rungs }: ServiceItem): Player {
  const { id, name, level, levels, reach, instruments } = member;
  const steps = { ...Rungs.rungsFor(level, levels), ...rungs[id] };
  return { id, name, role: 'keys', level, reach, instruments, rungs: steps };
}

/** `Without the bass, at the keys:`; empty where bass and drums are as they were. */
function sayTeam(was: readonly Role[], now: readonly Role[]): string {
  const said = HEARD.flatMap((role) => {
    const [before, after] = [was.includes(role), now.includes(role)];
    if (before === after) return [];
    return after ? [`with ${WHO[role]}`] : [`without ${WHO[role]}`];
  }).join(' and ');
  return said === '' ? '' : `${said[0]?.toUpperCase() ?? ''}${said.slice(1)}, at the keys:`;
}

const WHO = { bass: 'a bass', drums: 'drums' } as const;
