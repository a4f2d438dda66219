import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import type { PacketRow } from '#server/contract/packets.ts';
import { addMember, bringHymn, ownApp, tagOf, type TestApp } from '#test/support/api.ts';
import { addService, patchService, planService } from '#test/support/planned-service.ts';
import { expectProblem } from '#test/support/problem.ts';
import { ELSEWHERE, makeLink, openLink } from '#test/support/visitors.ts';

type Api = TestApp['api'];

const ROWS = 'application/x-ndjson';

/** How a PDF begins and ends (ISO 32000-1, 7.5.2 and 7.5.5). */
function expectPdf(bytes: Uint8Array): void {
  const text = Buffer.from(bytes).toString('latin1');
  expect(text.startsWith('%PDF-1.7')).toBe(true);
  expect(text.trimEnd().endsWith('%%EOF')).toBe(true);
}

/** Sizes of all pages in points, from their boxes. */
function pageSizes(bytes: Uint8Array): string[] {
  const text = Buffer.from(bytes).toString('latin1');
  return [...text.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)].map(
    ([, width, height]) => `${Math.round(Number(width))} × ${Math.round(Number(height))}`,
  );
}

const file = (api: Api, url: string) => api.get(url).buffer(true).responseType('blob');

async function rowsOf(api: Api, url: string): Promise<PacketRow[]> {
  const answer = await api
    .get(url)
    .set('accept', ROWS)
    .buffer(true)
    .parse((response, done) => {
      let text = '';
      response.on('data', (chunk: Buffer) => (text += chunk.toString()));
      response.on('end', () => done(null, text));
    })
    .expect(200);
  return (answer.body as string)
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as PacketRow);
}

describe('The packet of one person', () => {
  it('is a PDF on the paper that was asked for, named for whoever keeps it', async () => {
    const { api } = await ownApp();
    const { service, joel } = await planService(api);
    const url = `/api/services/${service.id}/packets/${joel.id}`;
    const answer = await file(api, url).expect(200);
    expect(answer.headers['content-type']).toBe('application/pdf');
    expect(answer.headers['content-disposition']).toContain('filename="Joel');
    expectPdf(answer.body as Buffer);
    // ISO 216: 210 × 297 mm; ANSI/ASME Y14.1: 8.5 × 11 in; a point is 1/72 in.
    expect(new Set(pageSizes(answer.body as Buffer))).toEqual(new Set(['595 × 842']));
    const letter = await file(api, `${url}?paper=Letter`).expect(200);
    expect(new Set(pageSizes(letter.body as Buffer))).toEqual(new Set(['612 × 792']));
  });

  it('takes more pages in large print', async () => {
    const { api } = await ownApp();
    const { service, joel } = await planService(api);
    const url = `/api/services/${service.id}/packets/${joel.id}`;
    const usual = await file(api, url).expect(200);
    const large = await file(api, `${url}?print=large`).expect(200);
    expect(pageSizes(large.body as Buffer).length).toBeGreaterThan(
      pageSizes(usual.body as Buffer).length,
    );
  });

  it('is the same until something changes, and another then', async () => {
    const { api } = await ownApp();
    const { service, joel } = await planService(api);
    const url = `/api/services/${service.id}/packets/${joel.id}`;
    const { headers, body } = await file(api, url).expect(200);
    const etag = String(headers['etag']);
    await api.get(url).set('if-none-match', etag).expect(304);
    await patchService(api, service, { title: 'Evening' }).expect(200);
    const after = await file(api, url).set('if-none-match', etag).expect(200);
    expect(Buffer.compare(after.body as Buffer, body as Buffer)).not.toBe(0);
  });

  it('says how far it is, and then stands ready under its address', async () => {
    const { api } = await ownApp();
    const { service, joel } = await planService(api);
    const url = `/api/services/${service.id}/packets/${joel.id}`;
    const rows = await rowsOf(api, url);
    // One song, and the binding.
    expect(rows.slice(0, -1)).toEqual([
      { done: 0, of: 2 },
      { done: 1, of: 2 },
      { done: 2, of: 2 },
    ]);
    const { body } = await file(api, url).expect(200);
    expect(rows.at(-1)).toEqual({ bytes: (body as Buffer).length });
    expect(await rowsOf(api, url)).toEqual(rows.slice(-1));
  });

  it('is refused where nobody of that name serves, before anything is made', async () => {
    const { api } = await ownApp();
    const { service } = await planService(api);
    const url = `/api/services/${service.id}/packets/nobody`;
    expectProblem(await api.get(url), 'no-such-person');
    expectProblem(await api.get(url).set('accept', ROWS), 'no-such-person');
    expectProblem(await api.get('/api/services/none/packets/nobody'), 'no-such-service');
    const odd = await api.get(`${url}?paper=A3`);
    expectProblem(odd, 'invalid-input');
  });
});

describe('The packets of everybody', () => {
  it('are PDFs in one zip, a name each', async () => {
    const { api } = await ownApp();
    const { service } = await planService(api);
    const answer = await file(api, `/api/services/${service.id}/packets`).expect(200);
    expect(answer.headers['content-type']).toBe('application/zip');
    const files = unzipSync(new Uint8Array(answer.body as Buffer));
    expect(Object.keys(files).map((name) => name.split(',')[0])).toEqual(['Ada', 'Joel']);
    for (const bytes of Object.values(files)) expectPdf(bytes);
  });

  it('are not there where nobody serves', async () => {
    const { api } = await ownApp();
    const { service } = await planService(api);
    const { body } = await patchService(api, service, { people: [] }).expect(200);
    expect(body.people).toEqual([]);
    expectProblem(await api.get(`/api/services/${service.id}/packets`), 'not-possible');
  });
});

describe('A packet by a set link', () => {
  it('is one’s own PDF for whoever holds the link, and nothing once it is taken back', async () => {
    const { api } = await ownApp();
    const { service, joel } = await planService(api);
    const made = await makeLink(api, service.id);
    const cookie = await openLink(api, made);
    const url = `/api/set/${made.link.id}/packets/${joel.id}`;
    const answer = await file(api, url).set(ELSEWHERE).set('cookie', cookie).expect(200);
    expectPdf(answer.body as Buffer);
    expectProblem(await api.get(url).set(ELSEWHERE), 'wrong-link');
    // What everybody plays is the leader's to hand out.
    const all = await api.get(`/api/services/${service.id}/packets`).set(ELSEWHERE);
    expectProblem(all, 'only-this-machine');
    await api
      .patch(`/api/links/${made.link.id}`)
      .set('if-match', tagOf(made.link.version))
      .send({ revoked: true })
      .expect(200);
    expectProblem(await api.get(url).set(ELSEWHERE).set('cookie', cookie), 'link-revoked');
  });

  it('names a child by what they do, also in its file’s name', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const wren = await addMember(api, { name: 'Wren', roles: ['harmony voice'], child: true });
    const service = await addService(api, {
      date: '2026-03-08',
      zone: 'Europe/Berlin',
      items: [{ id: 'a', kind: 'song', song: song.id }],
      people: [{ member: wren.id, roles: ['harmony voice'] }],
    });
    const made = await makeLink(api, service.id);
    const cookie = await openLink(api, made);
    const url = `/api/set/${made.link.id}/packets/${wren.id}`;
    const { headers } = await file(api, url).set(ELSEWHERE).set('cookie', cookie).expect(200);
    expect(headers['content-disposition']).toContain('harmony voice');
    expect(headers['content-disposition']).not.toContain('Wren');
    const own = await file(api, `/api/services/${service.id}/packets/${wren.id}`).expect(200);
    expect(own.headers['content-disposition']).toContain('Wren');
  });
});
