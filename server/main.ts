import { randomUUID } from 'node:crypto';
import type { AddressInfo } from 'node:net';
import { networkInterfaces } from 'node:os';
import { buildApp } from './app.ts';
import { readConfig, type Config } from './config.ts';
import { requireTeamId } from './launch/seed.ts';
import { createReader } from './reading/reader.ts';
import { createRenderer } from './render/renderer.ts';
import { warmUp } from './render/warm-up.ts';
import { findAddresses } from './services/find-addresses.ts';
import { openDatabase } from './store/database.ts';
import { createStore } from './store/store.ts';

/** Long enough for an open request, short enough for a person who waits for the prompt. */
const CLOSE_WITHIN_MS = 5000;

function reasonOf(error: unknown, { port, host }: Config): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  if (code === 'EADDRINUSE') {
    return `Port ${port} is taken, perhaps by a Partbook that runs already; close that one, or choose another with PORT=${port + 1} npm start.`;
  }
  if (code === 'EACCES') {
    return `Port ${port} may not be opened by this user; choose one above 1024, such as PORT=3000 npm start.`;
  }
  if (code === 'EADDRNOTAVAIL') return `This machine has no address ${host}; leave HOST out.`;
  return error instanceof Error ? error.message : String(error);
}

function addressOf({ address, family, port }: AddressInfo): string {
  const everywhere =
    address === '127.0.0.1' || address === '::1' || /^(0\.0\.0\.0|::)$/.test(address);
  if (everywhere) return `http://localhost:${port}`;
  return `http://${family === 'IPv6' ? `[${address}]` : address}:${port}`;
}

/** A line of its own, where there is something to say. */
function forTelephones(config: Config, { port }: AddressInfo): string {
  const origins = findAddresses({ ...config, port }, networkInterfaces());
  if (origins.length === 0) return '';
  return `For set links on telephones in the same network: ${origins.join(' or ')}\n`;
}

async function run(config: Config): Promise<void> {
  const database = openDatabase(config.databaseUrl);
  const store = createStore(database, { now: () => new Date(), newId: randomUUID });
  const teamId = await requireTeamId(store, config.seedData);
  const renderer = createRenderer();
  const reader = createReader();
  const app = await buildApp(config, { store, teamId, renderer, reader });
  app.addHook('onClose', async () => {
    await renderer.close();
    await reader.close();
    await database.$disconnect();
  });

  let closing = false;
  const close = (): void => {
    if (closing) return;
    closing = true;
    setTimeout(() => process.exit(1), CLOSE_WITHIN_MS).unref();
    app.close().then(
      () => process.exit(0),
      () => process.exit(1),
    );
  };
  process.on('SIGINT', close).on('SIGTERM', close);

  await app.listen({ host: config.host, port: config.port });
  const address = app.server.address();
  if (address && typeof address === 'object') {
    process.stdout.write(
      `Partbook is open at ${addressOf(address)}\n${forTelephones(config, address)}To close it, press Ctrl+C here.\n`,
    );
  }
  void warmUp(renderer, (line) => process.stderr.write(`${line}\n`));
}

let config: Config | null = null;
try {
  config = readConfig(process.env);
  await run(config);
} catch (error) {
  const reason = config ? reasonOf(error, config) : (error as Error).message;
  process.stderr.write(`Partbook did not start. ${reason}\n`);
  process.exit(1);
}
