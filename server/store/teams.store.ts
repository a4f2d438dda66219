import type { Connection } from './database.ts';
import type { Scope, Surroundings } from './scope.ts';

export interface StoredTeam {
  readonly id: string;
  readonly name: string;
  readonly version: number;
}

const COLUMNS = { id: true, name: true, version: true } as const;

export function teamStore({ db, teamId }: Scope) {
  return {
    /** The team of this scope. */
    find: (): Promise<StoredTeam | null> =>
      db.team.findUnique({ where: { id: teamId }, select: COLUMNS }),
  };
}

/** The one question that is asked across teams: which there are, the oldest first. */
export function findTeams(db: Connection): Promise<StoredTeam[]> {
  return db.team.findMany({ orderBy: [{ createdAt: 'asc' }, { id: 'asc' }], select: COLUMNS });
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
