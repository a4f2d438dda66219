import type { Team, TeamChange } from '#server/contract/team.ts';
import { ask, type Answer } from './http.ts';

export function findTeam(): Promise<Answer<Team>> {
  return ask('/team');
}

export function changeTeam(version: number, change: TeamChange): Promise<Answer<Team>> {
  return ask('/team', { method: 'PATCH', body: change, version });
}
