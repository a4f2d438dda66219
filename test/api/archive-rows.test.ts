import { once } from 'node:events';
import { request, type ClientRequest, type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';
import { json } from 'node:stream/consumers';
import { setTimeout } from 'node:timers/promises';
import { zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { ROWS, type ImportReport, type ImportRow } from '#server/contract/library.ts';
import type { SongList } from '#server/contract/songs.ts';
import { ownApp, type TestApp } from '#test/support/api.ts';
import { text, twoSongs } from '#test/support/archives.ts';
import { expectProblem } from '#test/support/problem.ts';

/** An archive that lists its two songs by turns, so many times; songs of one archive are no doubles of each other. */
async function archiveOf(count: number): Promise<Uint8Array> {
  const files = await twoSongs();
  const manifest = JSON.parse(Buffer.from(files['manifest.json'] ?? []).toString()) as {
    songs: object[];
  };
  const songs = Array.from({ length: count }, (_, i) => manifest.songs[i % 2]);
  const listed = { ...files, 'manifest.json': text(JSON.stringify({ ...manifest, songs })) };
  return zipSync(listed);
}

async function addressOf({ app }: TestApp): Promise<string> {
  await app.listen({ port: 0, host: '127.0.0.1' });
  return `http://127.0.0.1:${(app.server.address() as AddressInfo).port}`;
}

/** A request whose body is still to be sent. */
function begin(address: string): ClientRequest {
  const headers = { 'content-type': 'application/zip', accept: ROWS };
  const sent = request(`${address}/api/library`, { method: 'POST', agent: false, headers });
  // Whoever hangs up hears that the other side is gone.
  sent.on('error', () => undefined);
  return sent;
}

async function send(
  address: string,
  body: Uint8Array,
): Promise<{ sent: ClientRequest; answer: IncomingMessage }> {
  const sent = begin(address);
  sent.end(body);
  const [answer] = (await once(sent, 'response')) as [IncomingMessage];
  return { sent, answer };
}

/** The rows of an answer, each as it comes. */
async function* rowsOf(answer: IncomingMessage): AsyncGenerator<ImportRow> {
  let rest = '';
  for await (const piece of answer.setEncoding('utf8')) {
    const rows = `${rest}${piece as string}`.split('\n');
    rest = rows.pop() ?? '';
    for (const row of rows) yield JSON.parse(row) as ImportRow;
  }
}

const titlesIn = async ({ api }: TestApp): Promise<string[]> =>
  ((await api.get('/api/songs')).body as SongList).songs.map(({ title }) => title);

describe('POST /api/library, heard row by row', () => {
  it('says how many songs there are, what became of each, and how it ended', async () => {
    const own = await ownApp();
    const { answer } = await send(await addressOf(own), await archiveOf(3));
    expect(answer.headers['content-type']).toContain(ROWS);
    const rows: ImportRow[] = [];
    for await (const row of rowsOf(answer)) rows.push(row);
    expect(rows[0]).toEqual({ import: expect.any(String) as string, of: 3 });
    expect(rows.slice(1, -1).map((row) => 'line' in row && row.line.outcome)).toEqual([
      'in',
      'in',
      'in',
    ]);
    expect(rows.at(-1)).toEqual({ end: 'done' });
    expect(await titlesIn(own)).toHaveLength(3);
  });

  it('refuses what is no archive as any other answer does', async () => {
    const own = await ownApp();
    const { answer } = await send(await addressOf(own), new Uint8Array([1, 2, 3]));
    expect(answer.statusCode).toBe(422);
    expect(await json(answer)).toMatchObject({ code: 'unreadable-archive' });
  });

  it('is stopped by its name: every song that is in was heard of, and no other came', async () => {
    const own = await ownApp();
    const address = await addressOf(own);
    const { answer } = await send(address, await archiveOf(300));
    let lines = 0;
    let end: ImportRow | null = null;
    let name = '';
    for await (const row of rowsOf(answer)) {
      if ('import' in row) name = row.import;
      if ('line' in row) lines += 1;
      if ('line' in row && lines === 1) {
        await own.api.delete(`/api/library/import?import=${name}`).expect(204);
      }
      end = row;
    }
    expect(end).toEqual({ end: 'stopped' });
    expect(lines).toBeLessThan(300);
    expect(await titlesIn(own)).toHaveLength(lines);
    // What is over can be stopped without harm.
    await own.api.delete(`/api/library/import?import=${name}`).expect(204);
  });

  it('ends where nobody hears of it any more; every song that is in is whole, and the next import runs', async () => {
    const own = await ownApp();
    const address = await addressOf(own);
    const { sent, answer } = await send(address, await archiveOf(300));
    for await (const row of rowsOf(answer)) if ('line' in row) break;
    sent.destroy();
    let count = -1;
    for (let now = (await titlesIn(own)).length; now !== count; await setTimeout(300)) {
      [count, now] = [now, (await titlesIn(own)).length];
    }
    expect(count).toBeLessThan(300);
    for (const { id } of ((await own.api.get('/api/songs')).body as SongList).songs) {
      await own.api.get(`/api/songs/${id}`).expect(200);
      await own.api.get(`/api/songs/${id}/arrangement`).expect(200);
    }
    const next = await own.api
      .post('/api/library?doubles=bring')
      .type('application/zip')
      .send(Buffer.from(await archiveOf(2)))
      .expect(200);
    expect((next.body as ImportReport).lines).toHaveLength(2);
  });

  it('leaves nothing where it breaks off on its way', async () => {
    const own = await ownApp();
    const address = await addressOf(own);
    const whole = await archiveOf(2);
    const sent = begin(address);
    sent.write(whole.subarray(0, whole.length >> 1));
    await setTimeout(200);
    sent.destroy();
    await setTimeout(100);
    expect(await titlesIn(own)).toEqual([]);
  });
});

describe('POST /api/library, of some songs', () => {
  it('brings those that are asked for by their place, also where the book has them', async () => {
    const own = await ownApp();
    const archive = Buffer.from(await archiveOf(2));
    const bring = (query: string) =>
      own.api.post(`/api/library?${query}`).type('application/zip').send(archive);
    await bring('from=1').expect(200);
    expect(await titlesIn(own)).toEqual(['Silent Night']);
    const again = (await bring('from=1&most=1&doubles=bring').expect(200)).body as ImportReport;
    expect(again.lines.map(({ file, outcome }) => [file, outcome])).toEqual([
      ['songs/Silent Night', 'in'],
    ]);
    expect(await titlesIn(own)).toEqual(['Silent Night', 'Silent Night']);
    expect(((await bring('from=9').expect(200)).body as ImportReport).lines).toEqual([]);
    expectProblem(await bring('from=-1'), 'invalid-input');
  });
});
