import type { Team, TeamChange } from '../contract/team.ts';
import type { TeamStore } from '../store/store.ts';
import { requireTeam } from './find-team.ts';
import { Refusal } from './refusal.ts';
import { requireRange } from './require-range.ts';
import { staleVersion } from './stale-version.ts';

/** Each change is one step and is undone by sending what was before. Clearing the demo hides all of it. */
export async function changeTeam(
  store: TeamStore,
  version: number,
  change: TeamChange,
): Promise<Team> {
  const { congregation } = change;
  if (typeof congregation === 'object') requireRange('congregation', congregation);
  return store.together(async (rooms) => {
    const before = await requireTeam(rooms);
    if (change.demo !== undefined && before.demo === null) {
      throw new Refusal(
        'no-demo',
        `${before.name} began without a demo, so there is none to clear or to keep. Nothing was changed.`,
      );
    }
    if (!(await rooms.team.update(version, change))) throw staleVersion(`The team ${before.name}`);
    const [was, is] = [before.demo, change.demo ?? before.demo];
    if (was !== 'cleared' && is === 'cleared') await rooms.demo.hide();
    if (was === 'cleared' && is !== 'cleared') await rooms.demo.show();
    return requireTeam(rooms);
  });
}
