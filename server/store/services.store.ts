import type { ArrangedPass, Key, OwnRungs, PitchName, Role, WayKind } from '#music';
import { fromJson, fromJsonOrNull, presence, type Presence, type Scope } from './scope.ts';

export type ItemKind = 'song' | 'reading' | 'prayer' | 'talk' | 'other';

/** One line of the order. Songs and members that were deleted stay named. */
export interface StoredItem {
  /** Its own within the service. */
  readonly id: string;
  readonly kind: ItemKind;
  readonly title: string;
  readonly minutes: number | null;
  readonly note: string;
  readonly song: string | null;
  /** null: the usual key, lead, form of the song. */
  readonly key: Key | null;
  readonly lead: string | null;
  readonly form: readonly ArrangedPass[] | null;
  /** By member: the tonic it is read in. */
  readonly playedIn: Readonly<Record<string, string>>;
  /** By member. */
  readonly rungs: Readonly<Record<string, OwnRungs>>;
  /** How the music goes on to the next song; null: nothing is planned. */
  readonly wayOn: WayKind | null;
}

export interface StoredPerson {
  readonly member: string;
  readonly roles: readonly Role[];
  /** This week's, sounding; null: the usual one. */
  readonly voice: { readonly low: PitchName; readonly high: PitchName } | null;
}

/** Date and time are on the clocks of the zone. */
export interface ServiceFacts {
  readonly title: string;
  readonly date: string;
  readonly time: string;
  /** When it has to end; null: whenever it ends. */
  readonly until: string | null;
  readonly zone: string;
  readonly place: string;
  /** In order. */
  readonly items: readonly StoredItem[];
  readonly people: readonly StoredPerson[];
}

export interface StoredService extends ServiceFacts {
  readonly id: string;
  readonly version: number;
  readonly deletedAt: Date | null;
}

export type ServiceHeading = Omit<StoredService, 'items' | 'people'> & {
  /** Titles, in order. */
  readonly songs: readonly string[];
  readonly people: number;
};

export type ServiceUpdate = Partial<ServiceFacts>;

const HEADING = {
  id: true,
  title: true,
  date: true,
  time: true,
  until: true,
  zone: true,
  place: true,
  version: true,
  deletedAt: true,
} as const;
const IN_ORDER = { position: 'asc' } as const;
const ITEM = {
  id: true,
  kind: true,
  title: true,
  minutes: true,
  note: true,
  songId: true,
  key: true,
  leadId: true,
  form: true,
  playedIn: true,
  rungs: true,
  wayOn: true,
} as const;
const PERSON = { memberId: true, roles: true, voiceLow: true, voiceHigh: true } as const;

interface ItemRow extends Pick<StoredItem, 'id' | 'title' | 'minutes' | 'note'> {
  readonly kind: string;
  readonly songId: string | null;
  readonly key: string | null;
  readonly leadId: string | null;
  readonly form: string | null;
  readonly playedIn: string;
  readonly rungs: string;
  readonly wayOn: string | null;
}

function itemOf({ songId, leadId, ...row }: ItemRow): StoredItem {
  return {
    ...row,
    kind: row.kind as ItemKind,
    song: songId,
    key: fromJsonOrNull<Key>(row.key),
    lead: leadId,
    form: fromJsonOrNull<ArrangedPass[]>(row.form),
    playedIn: fromJson<Record<string, string>>(row.playedIn),
    rungs: fromJson<Record<string, OwnRungs>>(row.rungs),
    wayOn: row.wayOn as WayKind | null,
  };
}

function itemRow({ song, lead, ...item }: StoredItem, position: number) {
  return {
    ...item,
    position,
    songId: song,
    key: item.key && JSON.stringify(item.key),
    leadId: lead,
    form: item.form && JSON.stringify(item.form),
    playedIn: JSON.stringify(item.playedIn),
    rungs: JSON.stringify(item.rungs),
  };
}

interface PersonRow {
  readonly memberId: string;
  readonly roles: string;
  readonly voiceLow: string | null;
  readonly voiceHigh: string | null;
}

function personOf({ memberId, roles, voiceLow: low, voiceHigh: high }: PersonRow): StoredPerson {
  const voice = low === null || high === null ? null : { low, high };
  return { member: memberId, roles: fromJson<Role[]>(roles), voice };
}

function personRow({ member, roles, voice }: StoredPerson, position: number) {
  return {
    memberId: member,
    position,
    roles: JSON.stringify(roles),
    voiceLow: voice?.low ?? null,
    voiceHigh: voice?.high ?? null,
  };
}

export type ServicesStore = ReturnType<typeof servicesStore>;

export function servicesStore({ db, teamId, now, newId }: Scope) {
  /** All rows of an order are written anew: their places change together. */
  async function setItems(serviceId: string, items: readonly StoredItem[]): Promise<void> {
    await db.serviceItem.deleteMany({ where: { teamId, serviceId } });
    const data = items.map((item, at) => ({ teamId, serviceId, ...itemRow(item, at) }));
    if (data.length > 0) await db.serviceItem.createMany({ data });
  }

  async function setPeople(serviceId: string, people: readonly StoredPerson[]): Promise<void> {
    await db.servicePerson.deleteMany({ where: { teamId, serviceId } });
    const data = people.map((person, at) => ({ teamId, serviceId, ...personRow(person, at) }));
    if (data.length > 0) await db.servicePerson.createMany({ data });
  }

  /** Changes the row of that version, or none: the answer says which. */
  async function touch(
    id: string,
    version: number,
    which: Presence,
    data: Readonly<Record<string, string | Date | null>>,
  ): Promise<boolean> {
    const { count } = await db.service.updateMany({
      where: { id, teamId, version, deletedAt: presence(which) },
      data: { ...data, updatedAt: now(), version: { increment: 1 } },
    });
    return count === 1;
  }

  return {
    /**
     * By date, the earliest first. Three statements however many: lines and titles are asked for by team and not by
     * id, as a long list of ids is cut into several questions.
     */
    async list(which: Presence): Promise<ServiceHeading[]> {
      const these = { teamId, deletedAt: presence(which) };
      const services = await db.service.findMany({
        where: these,
        orderBy: [{ date: 'asc' }, { time: 'asc' }, { id: 'asc' }],
        select: { ...HEADING, _count: { select: { people: true } } },
      });
      const lines = await db.serviceItem.findMany({
        where: { teamId, songId: { not: null }, service: these },
        orderBy: IN_ORDER,
        select: { serviceId: true, songId: true },
      });
      const songs = await db.song.findMany({
        where: { teamId, items: { some: { service: these } } },
        select: { id: true, title: true },
      });
      const titles = new Map(songs.map(({ id, title }) => [id, title]));
      return services.map(({ _count: { people }, ...heading }) => ({
        ...heading,
        songs: lines.flatMap(({ serviceId, songId }) =>
          serviceId === heading.id ? (titles.get(songId ?? '') ?? []) : [],
        ),
        people,
      }));
    },

    /** Three statements however large. */
    async find(id: string, which: Presence = 'present'): Promise<StoredService | null> {
      const row = await db.service.findFirst({
        where: { id, teamId, deletedAt: presence(which) },
        select: {
          ...HEADING,
          items: { orderBy: IN_ORDER, select: ITEM },
          people: { orderBy: IN_ORDER, select: PERSON },
        },
      });
      return row && { ...row, items: row.items.map(itemOf), people: row.people.map(personOf) };
    },

    /** Services in which somebody does something, that one alone among their people; the latest first. Three statements. */
    async listOf(member: string): Promise<StoredService[]> {
      const rows = await db.service.findMany({
        where: { teamId, deletedAt: null, people: { some: { teamId, memberId: member } } },
        orderBy: [{ date: 'desc' }, { time: 'desc' }, { id: 'desc' }],
        select: {
          ...HEADING,
          items: { orderBy: IN_ORDER, select: ITEM },
          people: { where: { memberId: member }, select: PERSON },
        },
      });
      return rows.map((row) => ({
        ...row,
        items: row.items.map(itemOf),
        people: row.people.map(personOf),
      }));
    },

    /** Services of the days from one to another, both included, with order and people; the latest first. Three statements. */
    async between(from: string, until: string): Promise<StoredService[]> {
      const rows = await db.service.findMany({
        where: { teamId, deletedAt: null, date: { gte: from, lte: until } },
        orderBy: [{ date: 'desc' }, { time: 'desc' }, { id: 'desc' }],
        select: {
          ...HEADING,
          items: { orderBy: IN_ORDER, select: ITEM },
          people: { orderBy: IN_ORDER, select: PERSON },
        },
      });
      return rows.map((row) => ({
        ...row,
        items: row.items.map(itemOf),
        people: row.people.map(personOf),
      }));
    },

    /** The zone of the service that was made last; null: there was none yet. */
    async lastZone(): Promise<string | null> {
      const row = await db.service.findFirst({
        where: { teamId },
        orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
        select: { zone: true },
      });
      return row && row.zone;
    },

    /** Only inside a transaction, as `update`. */
    async add({ items, people, ...heading }: ServiceFacts): Promise<string> {
      const id = newId();
      const at = now();
      await db.service.create({
        data: { id, teamId, ...heading, createdAt: at, updatedAt: at },
        select: { id: true },
      });
      await setItems(id, items);
      await setPeople(id, people);
      return id;
    },

    /** Writes what is in the change. False where the service of that version is not there (any more). */
    async update(
      id: string,
      version: number,
      { items, people, ...heading }: ServiceUpdate,
    ): Promise<boolean> {
      if (!(await touch(id, version, 'present', heading))) return false;
      if (items) await setItems(id, items);
      if (people) await setPeople(id, people);
      return true;
    },

    /** Hides or shows; nothing is lost. */
    show: (id: string, version: number, shown: boolean): Promise<boolean> =>
      touch(id, version, shown ? 'deleted' : 'present', { deletedAt: shown ? null : now() }),
  };
}
