import { NO_DETAILS, type Key, type Problem, type Score, type SongDetails } from '#music';
import { fromJson, fromJsonOrNull, presence, type Presence, type Scope } from './scope.ts';

export interface SongHeading {
  readonly id: string;
  readonly title: string;
  readonly tune: string | null;
  readonly key: Key;
  readonly version: number;
  readonly deletedAt: Date | null;
}

/** The chord that a person wrote from a place on, in ticks; null: no chord there. */
export interface WrittenChord {
  readonly at: number;
  readonly length: number;
  readonly symbol: string | null;
}

export type SourceFormat = 'abc' | 'words' | 'musicxml' | 'midi' | 'written';

export interface SongSource {
  readonly format: SourceFormat;
  /** As given, byte for byte. */
  readonly bytes: Uint8Array;
  /** Which tune of the source, from 0. */
  readonly tuneIndex: number;
}

export interface StoredSong extends SongHeading {
  readonly sourceFormat: SourceFormat;
  /** As it was read: without the answers and corrections. */
  readonly score: Score;
  readonly warnings: readonly Problem[];
  readonly answeredKey: Key | null;
  readonly corrections: readonly WrittenChord[];
  readonly details: SongDetails;
  /** For the team alone. */
  readonly privateNote: string;
}

export type NewStoredSong = Pick<
  StoredSong,
  'title' | 'tune' | 'key' | 'score' | 'warnings' | 'answeredKey'
> & {
  readonly source: SongSource;
  /** Missing: nothing is known of it. */
  readonly details?: SongDetails;
  /** As which whoever wrote it knows it; missing: it was sent without one. */
  readonly draft?: string | undefined;
};

export type SongUpdate = Partial<
  Pick<
    StoredSong,
    'title' | 'tune' | 'key' | 'score' | 'answeredKey' | 'corrections' | 'details' | 'privateNote'
  >
>;

/** The columns of what is there; the others stay as they are. */
function changedColumnsOf({
  key,
  score,
  answeredKey,
  corrections,
  details,
  ...plain
}: SongUpdate): Record<string, string | null> {
  return {
    ...plain,
    ...(key && { key: JSON.stringify(key) }),
    ...(score && { score: JSON.stringify(score) }),
    ...(answeredKey !== undefined && { answeredKey: answeredKey && JSON.stringify(answeredKey) }),
    ...(corrections && { corrections: JSON.stringify(corrections) }),
    ...(details && { details: JSON.stringify(details) }),
  };
}

const HEADING = {
  id: true,
  title: true,
  tune: true,
  key: true,
  version: true,
  deletedAt: true,
} as const;
const WHOLE = {
  ...HEADING,
  sourceFormat: true,
  score: true,
  warnings: true,
  answeredKey: true,
  corrections: true,
  details: true,
  privateNote: true,
} as const;

interface WholeRow extends Omit<SongHeading, 'key'> {
  readonly key: string;
  readonly sourceFormat: string;
  readonly score: string;
  readonly warnings: string;
  readonly answeredKey: string | null;
  readonly corrections: string;
  readonly details: string;
  readonly privateNote: string;
}

const SOURCE_FORMATS: readonly SourceFormat[] = ['abc', 'words', 'musicxml', 'midi', 'written'];

const formatOf = (text: string | undefined): SourceFormat =>
  SOURCE_FORMATS.find((each) => each === text) ?? 'abc';

function songOf(row: WholeRow): StoredSong {
  return {
    ...row,
    sourceFormat: formatOf(row.sourceFormat),
    key: fromJson<Key>(row.key),
    score: fromJson<Score>(row.score),
    warnings: fromJson<Problem[]>(row.warnings),
    answeredKey: fromJsonOrNull<Key>(row.answeredKey),
    corrections: fromJson<WrittenChord[]>(row.corrections),
    details: { ...NO_DETAILS, ...fromJson<Partial<SongDetails>>(row.details) },
  };
}

export type SongsStore = ReturnType<typeof songsStore>;

export function songsStore({ db, teamId, now, newId }: Scope) {
  /** Changes the row of that version, or none: the answer says which. */
  async function update(
    id: string,
    version: number,
    which: Presence,
    data: Record<string, string | Date | null>,
  ): Promise<boolean> {
    const { count } = await db.song.updateMany({
      where: { id, teamId, version, deletedAt: presence(which) },
      data: { ...data, updatedAt: now(), version: { increment: 1 } },
    });
    return count === 1;
  }

  return {
    /** By title. */
    async list(which: Presence): Promise<SongHeading[]> {
      const rows = await db.song.findMany({
        where: { teamId, deletedAt: presence(which) },
        orderBy: [{ title: 'asc' }, { id: 'asc' }],
        select: HEADING,
      });
      return rows.map((row) => ({ ...row, key: fromJson<Key>(row.key) }));
    },

    async find(id: string, which: Presence = 'present'): Promise<StoredSong | null> {
      const row = await db.song.findFirst({
        where: { id, teamId, deletedAt: presence(which) },
        select: WHOLE,
      });
      return row && songOf(row);
    },

    /** Those of the ids that are songs, in no order; deleted ones only where they are wanted. One statement. */
    async findAll(ids: readonly string[], { deletedToo = false } = {}): Promise<StoredSong[]> {
      const rows = await db.song.findMany({
        where: { teamId, id: { in: [...ids] }, ...(deletedToo ? {} : { deletedAt: null }) },
        select: WHOLE,
      });
      return rows.map(songOf);
    },

    /** The song that was sent under this name, hidden or not. */
    findDraft: (draft: string): Promise<{ id: string } | null> =>
      db.song.findFirst({ where: { teamId, draft }, select: { id: true } }),

    async findSource(id: string): Promise<SongSource | null> {
      const row = await db.song.findFirst({
        where: { id, teamId, deletedAt: null },
        select: { sourceFormat: true, source: true, tuneIndex: true },
      });
      const format = formatOf(row?.sourceFormat);
      return row && { format, bytes: row.source, tuneIndex: row.tuneIndex };
    },

    async add(song: NewStoredSong): Promise<string> {
      const id = newId();
      const at = now();
      await db.song.create({
        data: {
          id,
          teamId,
          title: song.title,
          tune: song.tune,
          key: JSON.stringify(song.key),
          score: JSON.stringify(song.score),
          warnings: JSON.stringify(song.warnings),
          sourceFormat: song.source.format,
          source: new Uint8Array(song.source.bytes),
          tuneIndex: song.source.tuneIndex,
          answeredKey: song.answeredKey && JSON.stringify(song.answeredKey),
          ...(song.details && { details: JSON.stringify(song.details) }),
          draft: song.draft ?? null,
          createdAt: at,
          updatedAt: at,
        },
        select: { id: true },
      });
      return id;
    },

    update: (id: string, version: number, change: SongUpdate): Promise<boolean> =>
      update(id, version, 'present', changedColumnsOf(change)),

    /** Hides or shows; nothing is lost. */
    show: (id: string, version: number, shown: boolean): Promise<boolean> =>
      update(id, version, shown ? 'deleted' : 'present', { deletedAt: shown ? null : now() }),
  };
}
