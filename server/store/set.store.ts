import type { Key, Role } from '#music';
import { fromJson, fromJsonOrNull, type Scope } from './scope.ts';
import type { ItemKind } from './services.store.ts';
import type { StoredRange } from './members.store.ts';

/** A line of the order as those who hold a set link may know it. */
export interface StoredSetItem {
  readonly id: string;
  readonly kind: ItemKind;
  readonly title: string;
  readonly minutes: number | null;
  /** null: not a song. */
  readonly song: { readonly title: string; readonly deleted: boolean } | null;
  /** The key it sounds in this week, or usually; null where it is no song. */
  readonly key: Key | null;
  /** Who leads it this week, by the line itself. */
  readonly leadId: string | null;
  /** Who usually leads the song. */
  readonly usualLeadId: string | null;
}

export interface StoredSetPerson {
  readonly id: string;
  readonly name: string;
  readonly child: boolean;
  /** In this service. */
  readonly roles: readonly Role[];
  readonly comfortable: StoredRange | null;
  /** When the comfortable range was last marked; null: nobody noted it. */
  readonly rangeMarkedAt: Date | null;
  /** Whether the leader set a range for this service alone. */
  readonly ownVoice: boolean;
}

export interface StoredSet {
  readonly team: string;
  readonly title: string;
  readonly date: string;
  readonly time: string;
  readonly zone: string;
  readonly place: string;
  readonly items: readonly StoredSetItem[];
  /** Those who are members still. */
  readonly people: readonly StoredSetPerson[];
}

const PERSON = {
  id: true,
  name: true,
  child: true,
  comfortableLow: true,
  comfortableHigh: true,
  rangeMarkedAt: true,
} as const;

/** A key that was chosen before the song was said to be in another mode means another song. */
const keyOf = (chosen: Key | null, usual: Key): Key =>
  chosen?.mode === usual.mode ? chosen : usual;

export type SetStore = ReturnType<typeof setStore>;

/** A service as its set link shows it. What is not to be seen is not read: no notes, no limits, no levels. */
export function setStore({ db, teamId }: Scope) {
  return {
    /** null where the service is not there. A fixed number of statements, however long the order is. */
    async find(serviceId: string): Promise<StoredSet | null> {
      const row = await db.service.findFirst({
        where: { id: serviceId, teamId, deletedAt: null },
        select: {
          title: true,
          date: true,
          time: true,
          zone: true,
          place: true,
          team: { select: { name: true } },
          items: {
            orderBy: { position: 'asc' },
            select: {
              id: true,
              kind: true,
              title: true,
              minutes: true,
              key: true,
              leadId: true,
              song: {
                select: {
                  title: true,
                  key: true,
                  deletedAt: true,
                  arrangement: { select: { key: true, leadId: true } },
                },
              },
            },
          },
          people: {
            where: { member: { deletedAt: null } },
            orderBy: { position: 'asc' },
            select: { roles: true, voiceLow: true, member: { select: PERSON } },
          },
        },
      });
      if (!row) return null;
      return {
        team: row.team.name,
        title: row.title,
        date: row.date,
        time: row.time,
        zone: row.zone,
        place: row.place,
        items: row.items.map(({ song, key, leadId, ...item }) => ({
          ...item,
          kind: item.kind as ItemKind,
          song: song && { title: song.title, deleted: song.deletedAt !== null },
          key:
            song &&
            keyOf(fromJsonOrNull<Key>(key), fromJson<Key>(song.arrangement?.key ?? song.key)),
          leadId,
          usualLeadId: song?.arrangement?.leadId ?? null,
        })),
        people: row.people.map(({ roles, voiceLow, member }) => ({
          id: member.id,
          name: member.name,
          child: member.child,
          roles: fromJson<Role[]>(roles),
          comfortable:
            member.comfortableLow !== null && member.comfortableHigh !== null
              ? { low: member.comfortableLow, high: member.comfortableHigh }
              : null,
          rangeMarkedAt: member.rangeMarkedAt,
          ownVoice: voiceLow !== null,
        })),
      };
    },
  };
}
