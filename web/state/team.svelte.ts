import { Congregation, Keys, Room, type RoomGroupId, type RoomShares } from '#music';
import type { CongregationVoice, Team, TeamChange } from '#server/contract/team.ts';
import type { Trouble } from '#web/api/http.ts';
import { changeTeam, findTeam } from '#web/api/team.ts';
import { notices } from './notice.svelte.ts';
import { Saver } from './saver.svelte.ts';

/** Of one group, as the server takes it. */
export const MOST_PEOPLE = 10_000;

/** The team's name, what became of the demo it began with, and how its congregation sings. */
export class TeamState {
  /** null: not there yet. */
  team = $state.raw<Team | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  saver = $state.raw<Saver<Team, TeamChange> | null>(null);

  /** What the team has chosen, else the usual guideline. */
  readonly congregation: CongregationVoice = $derived(
    this.team?.congregation ?? Congregation.DEFAULT_GUIDELINE,
  );
  /** How many of each group are in the room; where nobody has said so, the usual ones. */
  readonly room: RoomShares = $derived(this.team?.room ?? Room.USUAL_ROOM);
  /** Whether the shares are the usual, invented ones. */
  readonly isUsualRoom: boolean = $derived(this.team === null || this.team.room === null);

  async load(): Promise<void> {
    const answer = await findTeam();
    this.trouble = answer.ok ? null : answer.trouble;
    if (!answer.ok) return;
    const held = this.saver?.held;
    // What is not saved yet stays, and an answer that was overtaken is passed over.
    if (held) this.team = { ...answer.value, ...held } as Team;
    else if (
      answer.value.id !== this.team?.id ||
      answer.value.version >= (this.saver?.version ?? 0)
    )
      this.#beginWith(answer.value);
  }

  rename(name: string): void {
    const before = this.team?.name;
    if (before === undefined || name === before) return;
    void this.#change({ name });
    notices.say(`The team is called ${name} now.`, () => this.#change({ name: before }));
  }

  /** @param choice a guideline, or a range as it is printed; null: the usual guideline */
  singsAs(choice: CongregationVoice | null): void {
    const before = this.team;
    if (!before || isSame(choice, before.congregation)) return;
    void this.#change({ congregation: choice });
    const { range, whose } = Congregation.chosen(choice);
    const [low, high] = [range.low, range.high].map(Keys.sayNote);
    const words = `The congregation sings ${low ?? ''} to ${high ?? ''} now, ${whose}.`;
    notices.say(words, () => this.#change({ congregation: before.congregation }));
  }

  /** How many of one group there are, as it was typed; what is no number of people changes nothing, and the foot says why. */
  count(group: RoomGroupId, typed: string): void {
    const people = typed.trim() === '' ? 0 : Number(typed);
    if (Number.isInteger(people) && people >= 0 && people <= MOST_PEOPLE) {
      this.fill({ ...this.room, [group]: people });
      return;
    }
    notices.say(
      `The number of ${group} is a whole number of people from 0 to 10,000. It stays as it was.`,
    );
  }

  /** @param room how many of each group; null: the usual shares */
  fill(room: RoomShares | null): void {
    const before = this.team;
    if (!before || isSame(room, before.room)) return;
    void this.#change({ room });
    const words = room ? 'The room is set anew.' : 'The room is the usual, invented one again.';
    notices.say(words, () => this.#change({ room: before.room }));
  }

  /**
   * Keeps or clears what the team began with, in one step.
   * @param after told when it is done, and again when it is undone: what is listed has changed
   */
  async decide(demo: 'kept' | 'cleared', after: () => unknown): Promise<void> {
    const before = this.team?.demo;
    if (!before) return;
    await this.#change({ demo });
    if (this.team?.demo !== demo) return;
    await after();
    const words =
      demo === 'kept'
        ? 'The example is yours to change now.'
        : 'The example is cleared away, but for what services of your own use.';
    notices.say(words, async () => {
      await this.#change({ demo: before });
      await after();
    });
  }

  #beginWith(team: Team): void {
    this.team = team;
    const saver = new Saver<Team, TeamChange>(team, {
      send: changeTeam,
      onsaved: (saved) => {
        if (saver === this.saver) this.team = saved;
      },
      onstale: async () => {
        notices.say('Someone else changed this in between; here is how it stands now.');
        await this.load();
      },
    });
    this.saver = saver;
  }

  async #change(change: TeamChange): Promise<void> {
    if (!this.team) return;
    this.team = { ...this.team, ...change } as Team;
    await this.saver?.change(change);
  }
}

const isSame = (one: unknown, other: unknown): boolean =>
  JSON.stringify(one) === JSON.stringify(other);

/** The team whose side this is: one for all pages, so that a choice on the one stands on the other at once. */
export const ourTeam = new TeamState();
