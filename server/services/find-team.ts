import type { Team } from '../contract/team.ts';
import type { TeamRooms } from '../store/store.ts';

/** A scope is made for a team that is there. */
export async function requireTeam(rooms: TeamRooms): Promise<Team> {
  const team = await rooms.team.find();
  if (!team) throw new Error('the team of this scope is gone');
  return team;
}
