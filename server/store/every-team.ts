import type { Connection } from './database.ts';
import type { Surroundings } from './scope.ts';
import { TEAM_COLUMNS, teamOf, type StoredTeam } from './team-row.ts';

/** The one question that is asked across teams: which there are, the oldest first. */
export async function findTeams(db: Connection): Promise<StoredTeam[]> {
  const orderBy = [{ createdAt: 'asc' as const }, { id: 'asc' as const }];
  return (await db.team.findMany({ orderBy, select: TEAM_COLUMNS })).map(teamOf);
}

export async function addTeam(
  db: Connection,
  { now, newId }: Surroundings,
  name: string,
): Promise<string> {
  const id = newId();
  const at = now();
  await db.team.create({ data: { id, name, createdAt: at, updatedAt: at }, select: { id: true } });
  return id;
}
