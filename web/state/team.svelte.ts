import type { Team, TeamChange } from '#server/contract/team.ts';
import type { Trouble } from '#web/api/http.ts';
import { changeTeam, findTeam } from '#web/api/team.ts';
import { notices } from './notice.svelte.ts';
import { Saver } from './saver.svelte.ts';

/** The team's name, and what became of the demo it began with. */
export class TeamState {
  /** null: not there yet. */
  team = $state.raw<Team | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  saver = $state.raw<Saver<Team, TeamChange> | null>(null);

  async load(): Promise<void> {
    const answer = await findTeam();
    this.trouble = answer.ok ? null : answer.trouble;
    if (!answer.ok) return;
    this.team = answer.value;
    const saver = new Saver<Team, TeamChange>(answer.value, {
      send: changeTeam,
      onsaved: (saved) => (this.team = saved),
      onstale: () => this.load(),
    });
    this.saver = saver;
  }

  rename(name: string): void {
    const before = this.team?.name;
    if (before === undefined || name === before) return;
    void this.#change({ name });
    notices.say(`The team is called ${name} now.`, () => this.#change({ name: before }));
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

  async #change(change: TeamChange): Promise<void> {
    if (!this.team) return;
    this.team = { ...this.team, ...change } as Team;
    await this.saver?.change(change);
  }
}
