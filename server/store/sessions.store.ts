import type { Scope } from './scope.ts';

export interface StoredStanding {
  /** Whether a passphrase is set. */
  readonly locked: boolean;
  /** Whether the session that was named is one, and has not ended. */
  readonly signedIn: boolean;
}

const DAY = 24 * 60 * 60 * 1000;

export type SessionsStore = ReturnType<typeof sessionsStore>;

/** The team's passphrase and the browsers that said it. Only hashes are kept of either. */
export function sessionsStore({ db, teamId, now }: Scope) {
  /** argon2id in the PHC string form; null: none is set. */
  async function passphrase(): Promise<string | null> {
    const row = await db.team.findUnique({ where: { id: teamId }, select: { passphrase: true } });
    return row?.passphrase ?? null;
  }

  return {
    passphrase,

    /** Asked before every answer of the leader's side, mostly with one statement. null: no session was named. */
    async standing(secretHash: string | null): Promise<StoredStanding> {
      if (secretHash !== null) {
        const session = await db.leaderSession.findFirst({
          where: { teamId, secretHash, endsAt: { gt: now() } },
          select: { teamId: true },
        });
        // Taking the passphrase away ends all sessions: where one is, there is a passphrase.
        if (session) return { locked: true, signedIn: true };
      }
      return { locked: (await passphrase()) !== null, signedIn: false };
    },

    /** Ends every session: whoever knew the old passphrase does not stay in by it. */
    async setPassphrase(hash: string | null): Promise<void> {
      await db.team.update({
        where: { id: teamId },
        data: { passphrase: hash, updatedAt: now() },
        select: { id: true },
      });
      await db.leaderSession.deleteMany({ where: { teamId } });
    },

    /** Sessions that have ended are cleared away on the way. */
    async begin(secretHash: string, days: number): Promise<void> {
      const at = now();
      await db.leaderSession.deleteMany({ where: { teamId, endsAt: { lte: at } } });
      await db.leaderSession.create({
        data: { secretHash, teamId, createdAt: at, endsAt: new Date(at.getTime() + days * DAY) },
        select: { teamId: true },
      });
    },

    async end(secretHash: string): Promise<void> {
      await db.leaderSession.deleteMany({ where: { teamId, secretHash } });
    },
  };
}
