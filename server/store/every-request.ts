import type { Connection } from './database.ts';

export interface StoredStanding {
  /** Whether a passphrase is set. */
  readonly locked: boolean;
  /** Whether the session that was named is one, and has not ended. */
  readonly signedIn: boolean;
  /** Counts every change of anything the team has. */
  readonly stamp: number;
}

/** A set link as it is now. */
export interface StoredOpening {
  readonly serviceId: string;
  /** SHA-256 of the secret, base64url. */
  readonly secretHash: string;
  readonly marksRanges: boolean;
  readonly endsAt: Date;
  readonly state: 'open' | 'ended' | 'revoked';
  /** The service is there and not deleted. */
  readonly served: boolean;
  /** Counts every change of anything the team has. */
  readonly stamp: number;
}

interface StandingRow {
  readonly locked: number | bigint;
  readonly signedIn: number | bigint;
  readonly stamp: number | bigint;
}

interface OpeningRow {
  readonly serviceId: string;
  readonly secretHash: string;
  readonly marksRanges: boolean | number | bigint;
  readonly endsAt: Date;
  readonly revokedAt: Date | null;
  readonly deletedAt: Date | null;
  readonly stamp: number | bigint;
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
      const [row] = await db.$queryRaw<StandingRow[]>`
        SELECT "stamp", "passphrase" IS NOT NULL AS "locked",
          EXISTS (SELECT 1 FROM "LeaderSession"
            WHERE "secretHash" = ${secretHash ?? ''} AND "teamId" = "Team"."id" AND "endsAt" > ${now()}) AS "signedIn"
        FROM "Team" WHERE "id" = ${teamId}`;
      if (!row) throw new Error('the team of this scope is gone');
      return {
        locked: Boolean(row.locked),
        signedIn: Boolean(row.signedIn),
        stamp: Number(row.stamp),
      };
    },

    /** What a set link opens, whoever asks; null where there is none. */
    async opening(link: string): Promise<StoredOpening | null> {
      const [row] = await db.$queryRaw<OpeningRow[]>`
        SELECT l."serviceId", l."secretHash", l."marksRanges", l."endsAt", l."revokedAt", s."deletedAt", t."stamp"
        FROM "SetLink" l
          JOIN "Service" s ON s."teamId" = l."teamId" AND s."id" = l."serviceId"
          JOIN "Team" t ON t."id" = l."teamId"
        WHERE l."id" = ${link} AND l."teamId" = ${teamId}`;
      if (!row) return null;
      const { serviceId, secretHash, endsAt } = row;
      return {
        serviceId,
        secretHash,
        marksRanges: Boolean(row.marksRanges),
        endsAt,
        state: row.revokedAt ? 'revoked' : endsAt <= now() ? 'ended' : 'open',
        served: row.deletedAt === null,
        stamp: Number(row.stamp),
      };
    },
  };
}
