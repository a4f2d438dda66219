import type { Connection } from './database.ts';
import type { Prisma } from './generated/client.ts';

/** In which column each model says whose row it is. A new model does not compile until it is said here. */
const OWNER = {
  team: 'id',
  song: 'teamId',
  member: 'teamId',
  arrangement: 'teamId',
  arrangementSinger: 'teamId',
  service: 'teamId',
  serviceItem: 'teamId',
  servicePerson: 'teamId',
  setLink: 'teamId',
  leaderSession: 'teamId',
} as const satisfies Record<Uncapitalize<Prisma.ModelName>, 'id' | 'teamId'>;

type Model = keyof typeof OWNER;
export const MODELS = Object.keys(OWNER) as Model[];

declare const guarded: unique symbol;
/**
 * The rows of one team. It has neither raw SQL nor transactions, and every question and every write must name the
 * team. Only `guard` makes one, so that a room cannot be built on a bare connection.
 */
export type GuardedConnection = Pick<Prisma.TransactionClient, Model> & {
  readonly [guarded]: true;
};

/** Which arguments of a method must name the team. What is not listed may not be called. */
const NAMED = new Map<string, readonly ('where' | 'data' | 'create')[]>([
  ['findUnique', ['where']],
  ['findUniqueOrThrow', ['where']],
  ['findFirst', ['where']],
  ['findFirstOrThrow', ['where']],
  ['findMany', ['where']],
  ['count', ['where']],
  ['aggregate', ['where']],
  ['groupBy', ['where']],
  ['update', ['where']],
  ['updateMany', ['where']],
  ['updateManyAndReturn', ['where']],
  ['delete', ['where']],
  ['deleteMany', ['where']],
  ['create', ['data']],
  ['createMany', ['data']],
  ['createManyAndReturn', ['data']],
  ['upsert', ['where', 'create']],
]);
/** What may be written but not to another team. */
const WRITTEN = ['data', 'create', 'update'] as const;
const ARITHMETIC = new Set(['set', 'increment', 'decrement', 'multiply', 'divide']);

type Fields = Readonly<Record<string, unknown>>;

const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype;

/** A row within a row: it would be written past the check. */
function isNested(value: unknown): boolean {
  return isFields(value) && Object.keys(value).some((key) => !ARITHMETIC.has(key));
}

function check(model: Model, method: string, args: unknown, teamId: string): void {
  const refuse = (why: string): never => {
    throw new Error(`${model}.${method} ${why}`);
  };
  const owner = OWNER[model];
  const given: Fields = isFields(args) ? args : {};
  const rows = (name: string): readonly unknown[] => [given[name] ?? {}].flat();
  const named = NAMED.get(method) ?? refuse('may not be called on the rows of a team');
  for (const name of named) {
    const all = rows(name).every((row) => isFields(row) && row[owner] === teamId);
    if (!all) refuse(`forgets the team: ${name}.${owner} must be that of the scope`);
  }
  for (const row of WRITTEN.flatMap(rows)) {
    if (!isFields(row)) continue;
    if (owner in row && row[owner] !== teamId) refuse('would give a row to another team');
    if (Object.values(row).some(isNested)) refuse('writes a row within a row');
  }
}

/** Stands between the rooms of a team and the database, inside a transaction and outside. */
export function guard(connection: Connection, teamId: string): GuardedConnection {
  const guardedModel = (model: Model) =>
    new Proxy(connection[model], {
      get(delegate, method) {
        const run: unknown = Reflect.get(delegate, method);
        if (typeof run !== 'function') return run;
        return (args: unknown): unknown => {
          check(model, String(method), args, teamId);
          return run.call(delegate, args);
        };
      },
    });
  return Object.fromEntries(
    MODELS.map((model) => [model, guardedModel(model)]),
  ) as unknown as GuardedConnection;
}
