/**
 * A bare Fastify app that answers with given bytes and headers, in a process of its own: the yardstick of
 * `pages.bench.ts`. `bare-route.ts FOLDER` serves `/0`, `/1` … from `0.bin` with `0.json` and says its port.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Fastify from 'fastify';

const folder = process.argv[2] ?? '';
const app = Fastify();
for (const file of readdirSync(folder).filter((name) => name.endsWith('.bin'))) {
  const name = file.replace(/\.bin$/, '');
  const bytes = readFileSync(join(folder, file));
  const headers = JSON.parse(readFileSync(join(folder, `${name}.json`), 'utf8')) as Record<
    string,
    string
  >;
  app.get(`/${name}`, (_request, reply) => reply.headers(headers).send(bytes));
}
await app.listen({ host: '127.0.0.1', port: 0 });
const address = app.server.address();
if (address && typeof address === 'object') process.stdout.write(`port ${address.port}\n`);
