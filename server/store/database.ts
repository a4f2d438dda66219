import { PrismaBetterSQLite3 } from '@prisma/adapter-better-sqlite3';
import { PrismaClient, type Prisma } from './generated/client.ts';

export type Database = PrismaClient;
/** What a store needs: the database itself, or the transaction that is open. */
export type Connection = PrismaClient | Prisma.TransactionClient;

export interface DatabaseOptions {
  /** Told of every SQL statement that is run. */
  readonly onStatement?: (sql: string) => void;
}

/** Rows by the names of their columns, as SQLite gives them: numbers, texts and null. */
type PlainRead = (
  sql: string,
  values: readonly string[],
) => Promise<Readonly<Record<string, unknown>>[]>;

const plainReads = new WeakMap<object, PlainRead>();

/**
 * Asks one statement past the query builder, which takes several times as long as SQLite does: for what is asked before
 * every answer. It waits its turn as every other. Inside a transaction it is asked by the builder all the same.
 */
export const readPlainly = (
  db: Connection,
  sql: string,
  values: readonly string[],
): ReturnType<PlainRead> => plainReads.get(db)?.(sql, values) ?? db.$queryRawUnsafe(sql, ...values);

type Release = () => void;

/** First come, first served. */
class Turnstile {
  #last: Promise<void> = Promise.resolve();

  async enter(): Promise<Release> {
    const before = this.#last;
    let leave: Release = () => {};
    this.#last = new Promise((resolve) => (leave = resolve));
    await before;
    return leave;
  }
}

/**
 * An acknowledged write must outlive a power cut: in WAL mode only FULL syncs the log at every commit
 * (sqlite.org/pragma.html#pragma_synchronous).
 */
const PRAGMAS = 'PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;';
/** How long a statement waits for another process that writes, in ms. */
const BUSY_TIMEOUT = 5000;

/**
 * The adapter has one connection and lets a plain query slip into a transaction that another request has open: it
 * would read what is not committed, and be lost if that is rolled back. Here plain queries wait for their turn.
 * Inside a transaction use only its own client; the outer one would wait for the transaction's end until it times out.
 */
function oneAtATime(url: string, onConnect: (plain: PlainRead) => void): PrismaBetterSQLite3 {
  const factory = new PrismaBetterSQLite3({ url, timeout: BUSY_TIMEOUT });
  const connect = factory.connect.bind(factory);
  factory.connect = async () => {
    const connection = await connect();
    await connection.executeScript(PRAGMAS);
    const turnstile = new Turnstile();
    const queryRaw = connection.queryRaw.bind(connection);
    const executeRaw = connection.executeRaw.bind(connection);
    const startTransaction = connection.startTransaction.bind(connection);
    const alone =
      <A extends unknown[], R>(run: (...args: A) => Promise<R>) =>
      async (...args: A): Promise<R> => {
        const leave = await turnstile.enter();
        try {
          return await run(...args);
        } finally {
          leave();
        }
      };
    connection.queryRaw = alone(queryRaw);
    onConnect(async (sql, values) => {
      const argTypes = values.map(() => ({ scalarType: 'string', arity: 'scalar' }) as const);
      const { columnNames, rows } = await connection.queryRaw({ sql, args: [...values], argTypes });
      return rows.map((row) => Object.fromEntries(columnNames.map((name, i) => [name, row[i]])));
    });
    connection.executeRaw = alone(executeRaw);
    connection.startTransaction = async (level) => {
      const leave = await turnstile.enter();
      try {
        const transaction = await startTransaction(level);
        const commit = transaction.commit.bind(transaction);
        const rollback = transaction.rollback.bind(transaction);
        transaction.commit = () => commit().finally(leave);
        transaction.rollback = () => rollback().finally(leave);
        return transaction;
      } catch (error) {
        leave();
        throw error;
      }
    };
    return connection;
  };
  return factory;
}

/** Many writers may stand in line at the turnstile; they should wait rather than fail. */
const transactionOptions = { maxWait: 20_000, timeout: 20_000 };

/** `url` is `file:` and a path. The tables must be there (`prisma migrate deploy`). */
export function openDatabase(url: string, options: DatabaseOptions = {}): Database {
  const { onStatement } = options;
  let connected: PlainRead | null = null;
  const adapter = oneAtATime(url, (plain) => (connected = plain));
  const client = onStatement
    ? listening(adapter, onStatement)
    : new PrismaClient({ adapter, transactionOptions });
  plainReads.set(client, async (sql, values) => {
    onStatement?.(sql);
    if (!connected) await client.$connect();
    if (!connected) throw new Error('the database gave no connection');
    return connected(sql, values);
  });
  return client;
}

function listening(adapter: PrismaBetterSQLite3, onStatement: (sql: string) => void): PrismaClient {
  const client = new PrismaClient({
    adapter,
    transactionOptions,
    log: [{ emit: 'event', level: 'query' }],
  });
  client.$on('query', ({ query }) => onStatement(query));
  return client;
}
