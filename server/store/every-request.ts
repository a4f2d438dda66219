import { readPlainly, type Connection } from './database.ts';

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

/** SQLite has neither booleans nor dates of its own. */
const isSet = (value: unknown): boolean => Number(value) === 1;
const dateOf = (value: unknown): Date => new Date(value as string | number | Date);

/**
 * What is asked before every answer, with one statement each. They are written in SQL: the query builder takes longer
 * than a kept answer does on its whole way. The team is named here once and for all; other rows are asked for through
 * the guard.
 */
export function everyRequest(db: Connection, teamId: string, now: () => Date) {
  return {
    /** Counts every change of anything the team has; null where the team is gone. */
    async stamp(): Promise<number | null> {
      const [row] = await readPlainly(db, 'SELECT "stamp" FROM "Team" WHERE "id" = ?', [teamId]);
      return row ? Number(row['stamp']) : null;
    },

    /** How the leader's side stands. @param secretHash of the session that a browser names; null: it names none */
    async standing(secretHash: string | null): Promise<StoredStanding> {
      const [row] = await readPlainly(db, STANDING, [secretHash ?? '', teamId]);
      if (!row) throw new Error('the team of this scope is gone');
      const { sessionEnds } = row;
      return {
        locked: isSet(row['locked']),
        signedIn: sessionEnds !== null && dateOf(sessionEnds) > now(),
        stamp: Number(row['stamp']),
      };
    },

    /** What a set link opens, whoever asks; null where there is none. */
    async opening(link: string): Promise<StoredOpening | null> {
      const [row] = await readPlainly(db, OPENING, [link, teamId]);
      if (!row) return null;
      const endsAt = dateOf(row['endsAt']);
      return {
        serviceId: String(row['serviceId']),
        secretHash: String(row['secretHash']),
        marksRanges: isSet(row['marksRanges']),
        endsAt,
        state: isSet(row['revoked']) ? 'revoked' : endsAt <= now() ? 'ended' : 'open',
        served: isSet(row['served']),
        stamp: Number(row['stamp']),
      };
    },
  };
}

const STANDING = `SELECT "stamp", "passphrase" IS NOT NULL AS "locked",
    (SELECT "endsAt" FROM "LeaderSession" WHERE "secretHash" = ? AND "teamId" = "Team"."id") AS "sessionEnds"
  FROM "Team" WHERE "id" = ?`;

const OPENING = `SELECT l."serviceId", l."secretHash", l."marksRanges" = 1 AS "marksRanges", l."endsAt",
    l."revokedAt" IS NOT NULL AS "revoked", s."deletedAt" IS NULL AS "served", t."stamp"
  FROM "SetLink" l
    JOIN "Service" s ON s."teamId" = l."teamId" AND s."id" = l."serviceId"
    JOIN "Team" t ON t."id" = l."teamId"
  WHERE l."id" = ? AND l."teamId" = ?`;
