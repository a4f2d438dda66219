import { PrismaBetterSQLite3 } from '@prisma/adapter-better-sqlite3';
import { defineConfig } from 'prisma/config';

// The schema names the variable; a start needs none to be set.
const url = (process.env['DATABASE_URL'] ??= 'file:./data/partbook.db');

/**
 * The schema engine sends a whole migration file to its shadow database as one statement, which better-sqlite3
 * refuses ("more than one statement"): such scripts go the way that is made for them.
 */
function migrationAdapter(): PrismaBetterSQLite3 {
  const factory = new PrismaBetterSQLite3({ url });
  const connectToShadow = factory.connectToShadowDb.bind(factory);
  factory.connectToShadowDb = async () => {
    const shadow = await connectToShadow();
    const executeOne = shadow.executeRaw.bind(shadow);
    shadow.executeRaw = async (query) => {
      if (query.args.length > 0) return executeOne(query);
      await shadow.executeScript(query.sql);
      return 0;
    };
    return shadow;
  };
  return factory;
}

export default defineConfig({
  experimental: { adapter: true },
  engine: 'js',
  schema: 'schema.prisma',
  migrations: { path: 'migrations' },
  adapter: async () => migrationAdapter(),
});
