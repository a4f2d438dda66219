import type { ArrangedPass, Density, Key, Tempo } from '#music';
import { fromJson, fromJsonOrNull, type Scope } from './scope.ts';

export interface ArrangementFacts {
  readonly key: Key;
  /** null: as the song has it. */
  readonly tempo: Tempo | null;
  readonly density: Density;
  /** null: as the song has it. */
  readonly form: readonly ArrangedPass[] | null;
  /** Member ids. */
  readonly lead: string | null;
  readonly singers: readonly string[];
  readonly player: string | null;
}

export interface StoredArrangement extends ArrangementFacts {
  readonly id: string;
  readonly songId: string;
  readonly version: number;
}

export type ArrangementUpdate = Partial<ArrangementFacts>;

function columnsOf(facts: ArrangementFacts) {
  return {
    key: JSON.stringify(facts.key),
    tempo: facts.tempo && JSON.stringify(facts.tempo),
    density: facts.density,
    form: facts.form && JSON.stringify(facts.form),
    leadId: facts.lead,
    playerId: facts.player,
  };
}

/** The columns of what is there; the others stay as they are. */
function changedColumnsOf({ key, tempo, density, form, lead, player }: ArrangementUpdate) {
  return {
    ...(key && { key: JSON.stringify(key) }),
    ...(tempo !== undefined && { tempo: tempo && JSON.stringify(tempo) }),
    ...(density && { density }),
    ...(form !== undefined && { form: form && JSON.stringify(form) }),
    ...(lead !== undefined && { leadId: lead }),
    ...(player !== undefined && { playerId: player }),
  };
}

const PERSON = { select: { id: true, deletedAt: true } } as const;
const WHOLE = {
  id: true,
  songId: true,
  version: true,
  key: true,
  tempo: true,
  density: true,
  form: true,
  lead: PERSON,
  player: PERSON,
  singers: {
    where: { member: { deletedAt: null } },
    orderBy: { position: 'asc' },
    select: { memberId: true },
  },
} as const;

interface Person {
  readonly id: string;
  readonly deletedAt: Date | null;
}

interface Row {
  readonly id: string;
  readonly songId: string;
  readonly version: number;
  readonly key: string;
  readonly tempo: string | null;
  readonly density: string;
  readonly form: string | null;
  readonly lead: Person | null;
  readonly player: Person | null;
  readonly singers: readonly { readonly memberId: string }[];
}

const idOf = (person: Person | null) => (person && !person.deletedAt ? person.id : null);

function arrangementOf(row: Row): StoredArrangement {
  return {
    id: row.id,
    songId: row.songId,
    version: row.version,
    key: fromJson<Key>(row.key),
    tempo: fromJsonOrNull<Tempo>(row.tempo),
    density: row.density as Density,
    form: fromJsonOrNull<ArrangedPass[]>(row.form),
    lead: idOf(row.lead),
    player: idOf(row.player),
    singers: row.singers.map(({ memberId }) => memberId),
  };
}

export type ArrangementsStore = ReturnType<typeof arrangementsStore>;

export function arrangementsStore({ db, teamId, now, newId }: Scope) {
  /** Sets the singers who can be seen. Those who were deleted keep their places, for when they are restored. */
  async function setSingers(arrangementId: string, singers: readonly string[]): Promise<void> {
    const hidden = await db.arrangementSinger.findMany({
      where: { teamId, arrangementId, member: { deletedAt: { not: null } } },
      orderBy: { position: 'asc' },
      select: { memberId: true, position: true },
    });
    const all = [...singers];
    for (const { memberId, position } of hidden) all.splice(position, 0, memberId);
    await db.arrangementSinger.deleteMany({ where: { teamId, arrangementId } });
    await db.arrangementSinger.createMany({
      data: all.map((memberId, position) => ({ teamId, arrangementId, memberId, position })),
    });
  }

  return {
    /** Two statements however many singers. Members who were deleted are left out. */
    async findOfSong(songId: string): Promise<StoredArrangement | null> {
      const row = await db.arrangement.findFirst({
        where: { teamId, songId, song: { deletedAt: null } },
        select: WHOLE,
      });
      return row && arrangementOf(row);
    },

    /** Those of the songs, in no order; as many statements however many. Members who were deleted are left out. */
    async findOfSongs(songIds: readonly string[]): Promise<StoredArrangement[]> {
      const rows = await db.arrangement.findMany({
        where: { teamId, songId: { in: [...songIds] }, song: { deletedAt: null } },
        select: WHOLE,
      });
      return rows.map(arrangementOf);
    },

    async add(songId: string, facts: ArrangementFacts): Promise<void> {
      const id = newId();
      const at = now();
      await db.arrangement.create({
        data: { id, teamId, songId, ...columnsOf(facts), createdAt: at, updatedAt: at },
        select: { id: true },
      });
      if (facts.singers.length > 0) await setSingers(id, facts.singers);
    },

    /**
     * Writes what is in the change and nothing else: what was read leaves deleted members out and must not be
     * written back. False where the arrangement of that version is not there (any more). Only inside a transaction.
     */
    async update(id: string, version: number, change: ArrangementUpdate): Promise<boolean> {
      const { count } = await db.arrangement.updateMany({
        where: { id, teamId, version },
        data: { ...changedColumnsOf(change), updatedAt: now(), version: { increment: 1 } },
      });
      if (count !== 1) return false;
      if (change.singers) await setSingers(id, change.singers);
      return true;
    },
  };
}
