import { once } from 'node:events';
import { createServer, type AddressInfo } from 'node:net';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { ownDatabase } from '#test/support/api.ts';
import { addressOf, startProgram } from '#test/support/program.ts';

// A program of its own is started from its source.
vi.setConfig({ testTimeout: 60_000 });

describe('the program', () => {
  it('makes the demo on an empty database, says where it is open, and closes when it is asked to', async () => {
    const { url, store } = ownDatabase();
    const started = startProgram({ DATABASE_URL: url, PORT: '0' });
    const { child, ended } = started;
    const address = await addressOf(started);
    const songs = (await (await fetch(`${address}/api/songs`)).json()) as { songs: unknown[] };
    expect(songs.songs.length).toBeGreaterThanOrEqual(16);
    expect(await store.teams()).toHaveLength(1);
    child.kill('SIGTERM');
    expect(await ended).toBe(0);
  });

  it('says in one sentence that a port is taken, and what to do', async () => {
    const taken = createServer().listen(0, '127.0.0.1');
    await once(taken, 'listening');
    onTestFinished(() => void taken.close());
    const { port } = taken.address() as AddressInfo;
    const { url } = ownDatabase();
    const { said, ended } = startProgram({ DATABASE_URL: url, PORT: String(port) });
    expect(await ended).toBe(1);
    expect(said()).toBe(
      `Partbook did not start. Port ${port} is taken, perhaps by a Partbook that runs already; close that one, or choose another with PORT=${port + 1} npm start.\n`,
    );
  });

  it('says which setting does not fit', async () => {
    const { said, ended } = startProgram({ PORT: 'http' });
    expect(await ended).toBe(1);
    expect(said()).toMatch(/^Partbook did not start\. PORT does not fit \(.*\)\.\n$/);
  });
});
