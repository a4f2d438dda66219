import type { Scope } from './scope.ts';
import { TEAM_COLUMNS, teamOf, type StoredTeam } from './team-row.ts';

export type { DemoState, StoredTeam } from './team-row.ts';

export type TeamUpdate = Partial<Pick<StoredTeam, 'name' | 'demo' | 'congregation' | 'room'>>;

export function teamStore({ db, teamId, now }: Scope) {
  return {
    /** The team of this scope. */
    async find(): Promise<StoredTeam | null> {
      const row = await db.team.findUnique({ where: { id: teamId }, select: TEAM_COLUMNS });
      return row && teamOf(row);
    },

    /** False where the team is at another version. The triggers count what a team has; this is the team itself. */
    async update(version: number, { congregation, room, ...change }: TeamUpdate): Promise<boolean> {
      const { count } = await db.team.updateMany({
        where: { id: teamId, version },
        data: {
          ...change,
          ...(congregation !== undefined && {
            congregation: congregation && JSON.stringify(congregation),
          }),
          ...(room !== undefined && { room: room && JSON.stringify(room) }),
          updatedAt: now(),
          version: { increment: 1 },
          stamp: { increment: 1 },
        },
      });
      return count === 1;
    },
  };
}
