import type { Connection } from './database.ts';

export interface StoredStanding {
  /** Whether a passphrase is set. */
  readonly locked: boolean;
  /** Whether the session that was named is one, and has not ended. */
  readonly signedIn: boolean;
}

/**
 * What is asked before every answer, with one statement each. They are written in SQL: the query builder takes several
 * times as long as a kept answer itself. The team is named here once and for all; rows are asked for elsewhere.
 */
export function everyRequest(db: Connection, teamId: string, now: () => Date) {
  return {
    /** Counts every change of anything the team has; null where the team is gone. */
    async stamp(): Promise<number | null> {
      const [row] = await db.$queryRaw<
        { stamp: number | bigint }[]
      >`SELECT "stamp" FROM "Team" WHERE "id" = ${teamId}`;
      return row ? Number(row.stamp) : null;
    },

    /** How the leader's side stands. @param secretHash of the session that a browser names; null: it names none */
    async standing(secretHash: string | null): Promise<StoredStanding> {
      const [row] = await db.$queryRaw<{ locked: number | bigint; signedIn: number | bigint }[]>`
        SELECT "passphrase" IS NOT NULL AS "locked",
          EXISTS (SELECT 1 FROM "LeaderSession"
            WHERE "secretHash" = ${secretHash ?? ''} AND "teamId" = "Team"."id" AND "endsAt" > ${now()}) AS "signedIn"
        FROM "Team" WHERE "id" = ${teamId}`;
      return { locked: Boolean(row?.locked), signedIn: Boolean(row?.signedIn) };
    },
  };
}
