import { readdirSync, readlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { Readable } from 'node:stream';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { takeUpload } from './upload.ts';

const MEGABYTE = 1024 * 1024;
const streamOf = (...pieces: Uint8Array[]): Readable => Readable.from(pieces);
const piece = (length: number, value: number): Uint8Array => new Uint8Array(length).fill(value);

/** Files of this program that are open and have no name, as Linux tells them; elsewhere it tells nothing. */
function openUploads(): string[] {
  if (process.platform !== 'linux') return [];
  return readdirSync('/proc/self/fd').flatMap((name) => {
    try {
      const file = readlinkSync(`/proc/self/fd/${name}`);
      return file.startsWith(`${tmpdir()}/partbook-`) && file.endsWith('(deleted)') ? [file] : [];
    } catch {
      return [];
    }
  });
}

describe('what is sent and put on the disk', () => {
  it('is there byte for byte until it is closed, under no name', async () => {
    const upload = await takeUpload(streamOf(piece(3, 1), piece(2, 2)), MEGABYTE);
    expect(upload.size).toBe(5);
    expect([...(await upload.read(0, 5))]).toEqual([1, 1, 1, 2, 2]);
    expect([...(await upload.read(2, 100))]).toEqual([1, 2, 2]);
    expect([...(await upload.read(9, 1))]).toEqual([]);
    if (process.platform === 'linux') expect(openUploads()).toHaveLength(1);
    await upload.close();
    expect(openUploads()).toEqual([]);
  });

  it('is refused beyond the limit, and nothing of it stays', async () => {
    const sent = streamOf(piece(MEGABYTE, 0), piece(1, 0));
    await expect(takeUpload(sent, MEGABYTE)).rejects.toMatchObject({ code: 'too-large' });
    expect(openUploads()).toEqual([]);
  });

  it('is refused where it breaks off, and nothing of it stays', async () => {
    const sent = new Readable({ read: () => undefined });
    sent.push(piece(10, 0));
    const taking = takeUpload(sent, MEGABYTE);
    await setTimeout(20);
    sent.destroy(new Error('aborted'));
    await expect(taking).rejects.toMatchObject({ code: 'bad-request' });
    expect(openUploads()).toEqual([]);
  });

  it('is refused where others lie there already; there is room again when one is gone', async () => {
    const three = await Promise.all([1, 2, 3].map(() => takeUpload(streamOf(piece(1, 0)), 1)));
    await expect(takeUpload(streamOf(piece(1, 0)), 1)).rejects.toMatchObject({
      code: 'reader-busy',
    });
    await three[0]?.close();
    const fourth = await takeUpload(streamOf(piece(1, 0)), 1);
    await Promise.all([three[1], three[2], fourth].map((each) => each?.close()));
    expect(openUploads()).toEqual([]);
  });
});
