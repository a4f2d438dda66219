import type { Connection } from './database.ts';
import type { Scope, Surroundings } from './scope.ts';

export interface StoredTeam {
  readonly id: string;
  readonly name: string;
  /** What became of the demo; null: this team began without one. */
  readonly demo: DemoState | null;
  readonly version: number;
}

export type DemoState = 'offered' | 'kept' | 'cleared';

const COLUMNS = { id: true, name: true, demo: true, version: true } as const;

function teamOf(row: Omit<StoredTeam, 'demo'> & { readonly demo: string | null }): StoredTeam {
  return { ...row, demo: row.demo as DemoState | null };
}

export function teamStore({ db, teamId }: Scope) {
  return {
    /** The team of this scope. */
    async find(): Promise<StoredTeam | null> {
      const row = await db.team.findUnique({ where: { id: teamId }, select: COLUMNS });
      return row && teamOf(row);
    },

    /** Counts every change of anything the team has; null where the team is gone. One statement. */
    async stamp(): Promise<number | null> {
      const row = await db.team.findUnique({ where: { id: teamId }, select: { stamp: true } });
      return row && row.stamp;
    },
  };
}

/** The one question that is asked across teams: which there are, the oldest first. */
export async function findTeams(db: Connection): Promise<StoredTeam[]> {
  const orderBy = [{ createdAt: 'asc' as const }, { id: 'asc' as const }];
  return (await db.team.findMany({ orderBy, select: COLUMNS })).map(teamOf);
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
