export type DemoState = 'offered' | 'kept' | 'cleared';

export interface StoredTeam {
  readonly id: string;
  readonly name: string;
  /** What became of the demo; null: this team began without one. */
  readonly demo: DemoState | null;
  readonly version: number;
}

export const TEAM_COLUMNS = { id: true, name: true, demo: true, version: true } as const;

interface TeamRow extends Omit<StoredTeam, 'demo'> {
  readonly demo: string | null;
}

export function teamOf(row: TeamRow): StoredTeam {
  return { ...row, demo: row.demo as DemoState | null };
}
