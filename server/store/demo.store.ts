import type { Scope } from './scope.ts';

/** The last of an instant and of that right after another. */
const notBefore = (at: Date, last: Date | null): Date =>
  last === null || last < at ? at : new Date(last.getTime() + 1);

export type DemoStore = ReturnType<typeof demoStore>;

/** What a team began with. It is hidden in one step and comes back in one. Only inside a transaction. */
export function demoStore({ db, teamId, now }: Scope) {
  const there = { teamId, demo: true, deletedAt: null };
  /** A service that the team planned itself, and has not taken out. */
  const own = { service: { demo: false, deletedAt: null } };

  /** The instant is none at which a person deleted one of these rows, so that it tells the two apart. */
  async function freshInstant(): Promise<Date> {
    const query = {
      where: { teamId, demo: true, deletedAt: { not: null } },
      _max: { deletedAt: true },
    } as const;
    const lasts = [
      await db.song.aggregate(query),
      await db.member.aggregate(query),
      await db.service.aggregate(query),
    ];
    return lasts.reduce((at, { _max }) => notBefore(at, _max.deletedAt), now());
  }

  return {
    /** Everything the team has now belongs to its demo. */
    async begin(): Promise<void> {
      const all = { where: { teamId }, data: { demo: true } };
      await db.song.updateMany(all);
      await db.member.updateMany(all);
      await db.service.updateMany(all);
      await db.team.update({
        where: { id: teamId },
        data: { demo: 'offered' },
        select: { id: true },
      });
    },

    /** Hides what is there of the demo, but for songs and people that the team's own services need. */
    async hide(): Promise<void> {
      const at = await freshInstant();
      const data = { deletedAt: at, updatedAt: at, version: { increment: 1 } };
      await db.song.updateMany({ where: { ...there, items: { none: own } }, data });
      const unasked = { services: { none: own }, leadsItems: { none: own } };
      await db.member.updateMany({ where: { ...there, ...unasked }, data });
      await db.service.updateMany({ where: there, data });
      await db.team.update({
        where: { id: teamId },
        data: { demoClearedAt: at },
        select: { id: true },
      });
    },

    /** Shows what `hide` hid. What a person had deleted before, or deleted since, stays so. */
    async show(): Promise<void> {
      const team = await db.team.findUnique({
        where: { id: teamId },
        select: { demoClearedAt: true },
      });
      if (!team?.demoClearedAt) return;
      const all = {
        where: { teamId, demo: true, deletedAt: team.demoClearedAt },
        data: { deletedAt: null, updatedAt: now(), version: { increment: 1 } },
      };
      await db.song.updateMany(all);
      await db.member.updateMany(all);
      await db.service.updateMany(all);
    },
  };
}
