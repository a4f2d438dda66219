import { Keys, Parts, PlayersInKey, Rungs } from '#music';
import type { Key, PlayerCost, PlayerInKey, Role, Score, Weighed, WeighedRole } from '#music';
import type { Arrangement } from '#server/contract/arrangements.ts';
import type { Member } from '#server/contract/members.ts';
import { idle } from './idle.ts';
import { readerOf } from './service-week.ts';

/** The song that is weighed, and who there is. */
export interface FitPlayersSource {
  readonly score: Score | null;
  /** The key on the screen, which may be spelled otherwise than those that are offered. */
  readonly key: Key | null;
  readonly played: Pick<Arrangement, 'tempo' | 'density' | 'form'> | null;
  /** The member for whose hands the page is laid out; null: whoever plays. */
  readonly player: Member | null;
  readonly members: readonly Member[];
  /** Whether they all serve this week; else it is not said who plays. */
  readonly isWeek: boolean;
}

/** Someone who can count when a key is chosen. */
export interface PlayerChoice {
  readonly id: string;
  readonly name: string;
  readonly role: WeighedRole;
  readonly level: Member['level'];
  readonly counts: boolean;
  /** Whether the keyboard's transpose button is used; null: it has none. */
  readonly byButton: boolean | null;
  readonly player: PlayerInKey;
}

interface Job {
  readonly score: Score;
  readonly keys: readonly Key[];
  readonly weighed: readonly Weighed[];
}

interface Done {
  readonly job: Job;
  readonly costs: ReadonlyMap<string, readonly PlayerCost[]>;
}

const LEVELS = ['beginner', 'intermediate', 'advanced'] as const;
const roleAt = ({ role }: Pick<PlayerInKey, 'role'>): number =>
  PlayersInKey.WEIGHED_ROLES.indexOf(role);
const idOf = (member: string, role: WeighedRole): string => `${member} ${role}`;

/**
 * What each key asks of the players who count. Laying out a part in twelve keys takes longer than a frame, so it is done
 * one key and one player at a time while the page is idle; until all of it is known nobody is weighed.
 */
export class FitPlayers {
  readonly #source: FitPlayersSource;
  #counts = $state.raw<Readonly<Record<string, boolean>>>({});
  #buttons = $state.raw<Readonly<Record<string, boolean>>>({});
  #done = $state.raw<Done | null>(null);
  /** What was weighed of a score before, by all that it depends on: who comes back is not weighed again. */
  readonly #known = new WeakMap<Score, Map<string, Weighed>>();
  readonly #finished = new WeakSet<Weighed>();

  constructor(source: FitPlayersSource) {
    this.#source = source;
  }

  /** Everybody who plays the keys, the guitar or the bass; beginners first, as their ease decides first. */
  readonly choices: readonly PlayerChoice[] = $derived.by(() => {
    const { members, player, isWeek } = this.#source;
    const all = members.flatMap((member) =>
      PlayersInKey.WEIGHED_ROLES.filter(
        (role) => member.roles.includes(role) || (role === 'keys' && member.id === player?.id),
      ).map((role) => ({ member, role })),
    );
    const alone = (role: WeighedRole): boolean =>
      role !== 'keys' && all.filter((each) => each.role === role).length === 1;
    const chosen = all.map(({ member, role }): PlayerChoice => {
      const usual = isWeek || alone(role) || (role === 'keys' && member.id === player?.id);
      return this.#choiceOf(playingAs(member, role), usual);
    });
    const isAtKeys = chosen.some(({ role, counts }) => role === 'keys' && counts);
    const anybody = { ...Parts.playerFor([], { player: null }), role: 'keys' } as const;
    const nobody = !isWeek && player === null && !isAtKeys;
    return [...(nobody ? [this.#choiceOf(anybody, true)] : []), ...chosen].sort(
      (a, b) => LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level) || roleAt(a) - roleAt(b),
    );
  });

  count({ id }: Pick<PlayerChoice, 'id'>, counts: boolean): void {
    this.#counts = { ...this.#counts, [id]: counts };
  }

  useButton({ id }: Pick<PlayerChoice, 'id'>, uses: boolean): void {
    this.#buttons = { ...this.#buttons, [id]: uses };
  }

  /** The key on the screen where it is none of those that are offered, written: another one alone weighs nothing anew. */
  readonly #spelled: string | null = $derived.by(() => {
    const { key } = this.#source;
    if (!key || Keys.keysToOffer(key.mode).some((each) => Keys.sameKey(each, key))) return null;
    return Keys.writeKey(key);
  });

  readonly #job: Job | null = $derived.by(() => {
    const { score, played, members } = this.#source;
    if (!score || !played) return null;
    const players = this.choices.filter(({ counts }) => counts).map(({ player }) => player);
    // Whoever does not count is there all the same, as on the sheet of the song.
    const team = { roles: [...new Set(members.flatMap(({ roles }) => roles))] };
    const offered = Keys.keysToOffer(score.keys[0]?.key.mode ?? 'major');
    const spelled = this.#spelled === null ? null : Keys.readKey(this.#spelled);
    return {
      score,
      keys: spelled ? [...offered, spelled] : offered,
      weighed: players.map((player) => this.#weighed(score, played, player, team)),
    };
  });

  /** Whether every key is weighed for all who count. */
  readonly isReady: boolean = $derived.by(() => this.#isOf(this.#job));

  /** What a key asks of those who count, in their order; empty until all keys are weighed. */
  in(key: Key): readonly PlayerCost[] {
    const done = this.#done;
    if (!done || done.job.score !== this.#job?.score) return [];
    return done.costs.get(Keys.writeKey(key)) ?? [];
  }

  /** Begins to weigh, where something changed; the answer breaks it off. */
  weigh(): () => void {
    const job = this.#job;
    const breakOff = new AbortController();
    if (job && !this.#isOf(job)) void this.#run(job, breakOff.signal);
    return () => breakOff.abort();
  }

  /** The same without a moment between, for whoever waits for it. */
  async weighed(): Promise<void> {
    if (this.#job) await this.#run(this.#job, new AbortController().signal);
  }

  async #run(job: Job, signal: AbortSignal): Promise<void> {
    for (const each of job.weighed) {
      for (const key of this.#finished.has(each) ? [] : job.keys) {
        await idle();
        if (signal.aborted) return;
        each.sounding(key);
      }
      this.#finished.add(each);
    }
    const costs = new Map(
      job.keys.map((key) => [
        Keys.writeKey(key),
        job.weighed.flatMap(({ cost }) => cost(key) ?? []),
      ]),
    );
    this.#done = { job, costs };
  }

  #isOf(job: Job | null): boolean {
    return job !== null && this.#done?.job === job;
  }

  #choiceOf(player: PlayerInKey, usual: boolean): PlayerChoice {
    const id = idOf(player.id, player.role);
    const hasButton = player.role === 'keys' && player.instruments?.transposeButton === true;
    const byButton = hasButton ? (this.#buttons[id] ?? false) : null;
    return {
      id,
      name: player.name,
      role: player.role,
      level: player.level,
      counts: this.#counts[id] ?? usual,
      byButton,
      player: byButton ? { ...player, byButton } : player,
    };
  }

  #weighed(
    score: Score,
    played: Pick<Arrangement, 'tempo' | 'density' | 'form'>,
    player: PlayerInKey,
    team: { readonly roles: readonly Role[] },
  ): Weighed {
    const of = this.#known.get(score) ?? new Map<string, Weighed>();
    this.#known.set(score, of);
    const { tempo, density, form } = played;
    const facts = JSON.stringify([tempo, density, form, player, team]);
    const found =
      of.get(facts) ?? PlayersInKey.weigh(score, { tempo, density, form }, player, team);
    of.set(facts, found);
    return found;
  }
}

function playingAs(member: Member, role: WeighedRole): PlayerInKey {
  const { id, name, level: usual, levels, reach, instruments } = member;
  const level = role === 'bass' ? (levels.bass ?? usual) : readerOf(member, role).level;
  return { id, name, role, level, reach, instruments, rungs: Rungs.rungsFor(usual, levels) };
}
