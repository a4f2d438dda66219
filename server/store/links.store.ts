import type { Scope } from './scope.ts';

export interface StoredLink {
  readonly id: string;
  readonly serviceId: string;
  /** SHA-256 of the secret, base64url. */
  readonly secretHash: string;
  readonly marksRanges: boolean;
  readonly endsAt: Date;
  readonly createdAt: Date;
  readonly version: number;
  /** As it is now: taken back, past its end, or neither. */
  readonly state: 'open' | 'ended' | 'revoked';
  /** The service is there and not deleted. */
  readonly served: boolean;
}

export interface LinkFacts {
  readonly marksRanges: boolean;
  readonly endsAt: Date;
}

const COLUMNS = {
  id: true,
  serviceId: true,
  secretHash: true,
  marksRanges: true,
  endsAt: true,
  revokedAt: true,
  createdAt: true,
  version: true,
  service: { select: { deletedAt: true } },
} as const;

interface Row extends Omit<StoredLink, 'state' | 'served'> {
  readonly revokedAt: Date | null;
  readonly service: { readonly deletedAt: Date | null };
}

function linkOf({ revokedAt, service, ...row }: Row, now: Date): StoredLink {
  const state = revokedAt ? 'revoked' : row.endsAt <= now ? 'ended' : 'open';
  return { ...row, state, served: service.deletedAt === null };
}

export type LinksStore = ReturnType<typeof linksStore>;

export function linksStore({ db, teamId, now, newId }: Scope) {
  return {
    /** Those of a service, the oldest first. */
    async list(serviceId: string): Promise<StoredLink[]> {
      const rows = await db.setLink.findMany({
        where: { teamId, serviceId },
        orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
        select: COLUMNS,
      });
      const at = now();
      return rows.map((row) => linkOf(row, at));
    },

    async find(id: string): Promise<StoredLink | null> {
      const row = await db.setLink.findFirst({ where: { id, teamId }, select: COLUMNS });
      return row && linkOf(row, now());
    },

    async add(serviceId: string, secretHash: string, facts: LinkFacts): Promise<string> {
      const id = newId();
      const at = now();
      const times = { createdAt: at, updatedAt: at };
      await db.setLink.create({
        data: { id, teamId, serviceId, secretHash, ...facts, ...times },
        select: { id: true },
      });
      return id;
    },

    /** `revoked` undefined: as it is. False where the link of that version is not there (any more). */
    async update(
      id: string,
      version: number,
      facts: LinkFacts,
      revoked?: boolean,
    ): Promise<boolean> {
      const at = now();
      const { count } = await db.setLink.updateMany({
        where: { id, teamId, version },
        data: {
          ...facts,
          ...(revoked === undefined ? {} : { revokedAt: revoked ? at : null }),
          updatedAt: at,
          version: { increment: 1 },
        },
      });
      return count === 1;
    },

    /** The links of a service that end at one instant end at another from now on. */
    async moveEnds(serviceId: string, from: Date, to: Date): Promise<void> {
      await db.setLink.updateMany({
        where: { teamId, serviceId, endsAt: from },
        data: { endsAt: to, updatedAt: now(), version: { increment: 1 } },
      });
    },

    /** When and where the service of a link takes place; null where it is not there. */
    async dayOf(
      serviceId: string,
    ): Promise<{ readonly date: string; readonly zone: string } | null> {
      return db.service.findFirst({
        where: { id: serviceId, teamId, deletedAt: null },
        select: { date: true, zone: true },
      });
    },
  };
}
