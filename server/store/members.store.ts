import { Pitches } from '#music';
import type { Instruments, Level, Levels, PitchName, Role } from '#music';
import { fromJson, presence, type Presence, type Scope } from './scope.ts';

/** Pitches as they sound. */
export interface StoredRange {
  readonly low: PitchName;
  readonly high: PitchName;
}

export interface MemberFacts {
  readonly name: string;
  readonly roles: readonly Role[];
  /** The usual one; `levels` says where a hand or a role has another. */
  readonly level: Level;
  readonly levels: Levels;
  readonly instruments: Instruments;
  /** Semitones. */
  readonly reach: number;
  readonly comfortable: StoredRange | null;
  readonly limit: StoredRange | null;
  readonly child: boolean;
}

export interface StoredMember extends MemberFacts {
  readonly id: string;
  /** When the comfortable range was last marked; null: nobody noted it. */
  readonly rangeMarkedAt: Date | null;
  readonly version: number;
  readonly deletedAt: Date | null;
}

const COLUMNS = {
  id: true,
  name: true,
  roles: true,
  level: true,
  levels: true,
  instruments: true,
  reach: true,
  comfortableLow: true,
  comfortableHigh: true,
  limitLow: true,
  limitHigh: true,
  rangeMarkedAt: true,
  child: true,
  version: true,
  deletedAt: true,
} as const;

interface Row {
  readonly id: string;
  readonly name: string;
  readonly roles: string;
  readonly level: string;
  readonly levels: string;
  readonly instruments: string;
  readonly reach: number;
  readonly comfortableLow: string | null;
  readonly comfortableHigh: string | null;
  readonly limitLow: string | null;
  readonly limitHigh: string | null;
  readonly rangeMarkedAt: Date | null;
  readonly child: boolean;
  readonly version: number;
  readonly deletedAt: Date | null;
}

function range(low: string | null, high: string | null): StoredRange | null {
  return low === null || high === null ? null : { low, high };
}

const lower = (one: PitchName, other: PitchName) =>
  Pitches.midiOf(one) <= Pitches.midiOf(other) ? one : other;
const higher = (one: PitchName, other: PitchName) =>
  Pitches.midiOf(one) >= Pitches.midiOf(other) ? one : other;

/**
 * The furthest notes as they are read: a comfortable note is one they have. What is kept stays as it was marked, so that
 * a slip in the comfortable range, once mended, leaves no trace in them.
 */
function enclosing(limit: StoredRange | null, comfortable: StoredRange | null): StoredRange | null {
  if (!limit || !comfortable) return limit;
  const { low, high } = comfortable;
  return { low: lower(limit.low, low), high: higher(limit.high, high) };
}

function memberOf(row: Row): StoredMember {
  return {
    id: row.id,
    name: row.name,
    roles: fromJson<Role[]>(row.roles),
    level: row.level as Level,
    levels: fromJson<Levels>(row.levels),
    instruments: fromJson<Instruments>(row.instruments),
    reach: row.reach,
    comfortable: range(row.comfortableLow, row.comfortableHigh),
    limit: enclosing(
      range(row.limitLow, row.limitHigh),
      range(row.comfortableLow, row.comfortableHigh),
    ),
    child: row.child,
    rangeMarkedAt: row.rangeMarkedAt,
    version: row.version,
    deletedAt: row.deletedAt,
  };
}

/**
 * When a range was marked that is written now.
 * @param earlier an instant that it had before, in ISO 8601; null: nobody noted it then; missing: it is marked now
 */
function markedAt(earlier: string | null | undefined, now: Date): Date | null {
  if (earlier === undefined) return now;
  const at = earlier === null ? null : new Date(earlier);
  return at && at > now ? now : at;
}

/** A range keeps the day on which it was marked. */
const comfortableColumns = (range: StoredRange | null, at: Date | null) => ({
  comfortableLow: range?.low ?? null,
  comfortableHigh: range?.high ?? null,
  rangeMarkedAt: range && at,
});
const limitColumns = (range: StoredRange | null) => ({
  limitLow: range?.low ?? null,
  limitHigh: range?.high ?? null,
});

function columnsOf(facts: MemberFacts, at: Date) {
  return {
    name: facts.name,
    roles: JSON.stringify(facts.roles),
    level: facts.level,
    levels: JSON.stringify(facts.levels),
    instruments: JSON.stringify(facts.instruments),
    reach: facts.reach,
    ...comfortableColumns(facts.comfortable, at),
    ...limitColumns(facts.limit),
    child: facts.child,
  };
}

/** The columns of what is changed, and no other: furthest notes that are only read wider are not written so. */
function changedColumns({ comfortable, limit, ...change }: Partial<MemberFacts>, at: Date | null) {
  const { name, roles, level, levels, instruments, reach, child } = change;
  return {
    ...(name !== undefined && { name }),
    ...(roles && { roles: JSON.stringify(roles) }),
    ...(level !== undefined && { level }),
    ...(levels && { levels: JSON.stringify(levels) }),
    ...(instruments && { instruments: JSON.stringify(instruments) }),
    ...(reach !== undefined && { reach }),
    ...(comfortable !== undefined && comfortableColumns(comfortable, at)),
    ...(limit !== undefined && limitColumns(limit)),
    ...(child !== undefined && { child }),
  };
}

export type MembersStore = ReturnType<typeof membersStore>;

export function membersStore({ db, teamId, now, newId }: Scope) {
  return {
    /** By name. */
    async list(which: Presence): Promise<StoredMember[]> {
      const rows = await db.member.findMany({
        where: { teamId, deletedAt: presence(which) },
        orderBy: [{ name: 'asc' }, { id: 'asc' }],
        select: COLUMNS,
      });
      return rows.map(memberOf);
    },

    async find(id: string, which: Presence = 'present'): Promise<StoredMember | null> {
      const row = await db.member.findFirst({
        where: { id, teamId, deletedAt: presence(which) },
        select: COLUMNS,
      });
      return row && memberOf(row);
    },

    /** Those of the ids that are members, in the order of the ids. One statement however many. */
    async findAll(ids: readonly string[]): Promise<StoredMember[]> {
      const rows = await db.member.findMany({
        where: { teamId, deletedAt: null, id: { in: [...ids] } },
        select: COLUMNS,
      });
      const found = new Map(rows.map((row) => [row.id, memberOf(row)]));
      return ids.flatMap((id) => found.get(id) ?? []);
    },

    async add(facts: MemberFacts): Promise<string> {
      const id = newId();
      const at = now();
      await db.member.create({
        data: { id, teamId, ...columnsOf(facts, at), createdAt: at, updatedAt: at },
        select: { id: true },
      });
      return id;
    },

    /** False where the member of that version is not there (any more). */
    async update(
      id: string,
      version: number,
      change: Partial<MemberFacts>,
      earlier?: string | null,
    ): Promise<boolean> {
      const at = now();
      const { count } = await db.member.updateMany({
        where: { id, teamId, version, deletedAt: null },
        data: {
          ...changedColumns(change, markedAt(earlier, at)),
          updatedAt: at,
          version: { increment: 1 },
        },
      });
      return count === 1;
    },

    /** Writes the comfortable range and nothing else; null: it is not known. */
    async mark(
      id: string,
      version: number,
      comfortable: StoredRange | null,
      earlier?: string | null,
    ): Promise<boolean> {
      const at = now();
      const { count } = await db.member.updateMany({
        where: { id, teamId, version, deletedAt: null },
        data: {
          ...comfortableColumns(comfortable, markedAt(earlier, at)),
          updatedAt: at,
          version: { increment: 1 },
        },
      });
      return count === 1;
    },

    /** Hides or shows; nothing is lost. */
    async show(id: string, version: number, shown: boolean): Promise<boolean> {
      const { count } = await db.member.updateMany({
        where: { id, teamId, version, deletedAt: presence(shown ? 'deleted' : 'present') },
        data: {
          deletedAt: shown ? null : now(),
          updatedAt: now(),
          version: { increment: 1 },
        },
      });
      return count === 1;
    },
  };
}
