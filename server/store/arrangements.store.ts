import type { Key, Tempo } from '#music';
import { fromJson, fromJsonOrNull, type Scope } from './scope.ts';

export interface ArrangementFacts {
  readonly key: Key;
  /** null: as the song has it. */
  readonly tempo: Tempo | null;
  readonly density: 'bar' | 'beat';
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

function columnsOf(facts: ArrangementFacts) {
  return {
    key: JSON.stringify(facts.key),
    tempo: facts.tempo && JSON.stringify(facts.tempo),
    density: facts.density,
    leadId: facts.lead,
    playerId: facts.player,
  };
}

export type ArrangementsStore = ReturnType<typeof arrangementsStore>;

export function arrangementsStore({ db, teamId, now, newId }: Scope) {
  async function setSingers(arrangementId: string, singers: readonly string[]): Promise<void> {
    await db.arrangementSinger.deleteMany({ where: { teamId, arrangementId } });
    await db.arrangementSinger.createMany({
      data: singers.map((memberId, position) => ({ teamId, arrangementId, memberId, position })),
    });
  }

  return {
    /** Two statements however many singers. Members who were deleted are left out. */
    async findOfSong(songId: string): Promise<StoredArrangement | null> {
      const row = await db.arrangement.findFirst({
        where: { teamId, songId, song: { deletedAt: null } },
        select: {
          id: true,
          songId: true,
          version: true,
          key: true,
          tempo: true,
          density: true,
          lead: { select: { id: true, deletedAt: true } },
          player: { select: { id: true, deletedAt: true } },
          singers: {
            where: { member: { deletedAt: null } },
            orderBy: { position: 'asc' },
            select: { memberId: true },
          },
        },
      });
      if (!row) return null;
      return {
        id: row.id,
        songId: row.songId,
        version: row.version,
        key: fromJson<Key>(row.key),
        tempo: fromJsonOrNull<Tempo>(row.tempo),
        density: row.density === 'beat' ? 'beat' : 'bar',
        lead: row.lead && !row.lead.deletedAt ? row.lead.id : null,
        player: row.player && !row.player.deletedAt ? row.player.id : null,
        singers: row.singers.map(({ memberId }) => memberId),
      };
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

    /** False where the arrangement of that version is not there (any more). Only inside a transaction. */
    async update(
      id: string,
      version: number,
      facts: ArrangementFacts,
      singersToo: boolean,
    ): Promise<boolean> {
      const { count } = await db.arrangement.updateMany({
        where: { id, teamId, version },
        data: { ...columnsOf(facts), updatedAt: now(), version: { increment: 1 } },
      });
      if (count !== 1) return false;
      if (singersToo) await setSingers(id, facts.singers);
      return true;
    },
  };
}
