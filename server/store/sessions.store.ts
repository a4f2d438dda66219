import type { Scope } from './scope.ts';

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
