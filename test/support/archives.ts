import { unzipSync } from 'fflate';
import { expect } from 'vitest';
import type { ImportLine, ImportReport } from '#server/contract/library.ts';
import { bringHymn, ownApp, type TestApp } from './api.ts';

type Api = TestApp['api'];

export async function takeOut(api: Api): Promise<Uint8Array> {
  const answer = await api.get('/api/library').responseType('blob').expect(200);
  expect(answer.headers).toMatchObject({
    'content-type': 'application/zip',
    'content-disposition': `attachment; filename="Partbook library.zip"; filename*=UTF-8''Partbook%20library.zip`,
  });
  return new Uint8Array(answer.body as Buffer);
}

export const put = (api: Api, bytes: Uint8Array, doubles = 'leave') =>
  api.post(`/api/library?doubles=${doubles}`).type('application/zip').send(Buffer.from(bytes));

export async function bringBack(
  api: Api,
  bytes: Uint8Array,
  doubles?: string,
): Promise<ImportLine[]> {
  return ((await put(api, bytes, doubles).expect(200)).body as ImportReport).lines;
}

/** A library of two songs, whose files a test may change. */
export async function twoSongs(): Promise<Record<string, Uint8Array>> {
  const { api } = await ownApp();
  await bringHymn(api);
  await bringHymn(api, 'Silent_Night-Stille_Nacht');
  return unzipSync(await takeOut(api));
}
export const GRACE = 'songs/Amazing Grace';
export const text = (value: string): Uint8Array => new TextEncoder().encode(value);

/** What a zip says of its files in its central directory (APPNOTE.TXT, 4.3.12), to be made to lie. */
export function entriesOf(bytes: Uint8Array): { name: string; claim: (size: number) => void }[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const entries: { name: string; claim: (size: number) => void }[] = [];
  for (let at = 0; at + 46 < bytes.length; at += 1) {
    if (view.getUint32(at, true) !== 0x02014b50) continue;
    const name = Buffer.from(bytes.subarray(at + 46, at + 46 + view.getUint16(at + 28, true)));
    entries.push({
      name: name.toString(),
      claim: (size) => view.setUint32(at + 24, size, true),
    });
  }
  return entries;
}
