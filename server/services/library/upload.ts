import { randomUUID } from 'node:crypto';
import { open, unlink, type FileHandle } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { Refusal } from '../refusal.ts';
import type { Bytes } from './zip-directory.ts';

/** Bytes on their way here. */
export type SentBytes = Readable;

/** Archives that may lie on the disk at once, those whose turn has not come included. */
const MOST_AT_ONCE = 3;

let there = 0;

/** Bytes that were sent, on the disk and not in memory, for as long as they are needed. */
export interface Upload extends Bytes {
  readonly close: () => Promise<void>;
}

/**
 * A file that has no name any more: it is gone when it is closed, and when the program ends, however it ends. It lies where
 * the system keeps such files (`TMPDIR`).
 */
async function namelessFile(): Promise<FileHandle> {
  const path = join(tmpdir(), `partbook-${randomUUID()}`);
  const file = await open(path, 'wx+', 0o600);
  try {
    await unlink(path);
    return file;
  } catch (error) {
    await file.close();
    throw error;
  }
}

async function readAt(file: FileHandle, from: number, length: number): Promise<Uint8Array> {
  const bytes = new Uint8Array(length);
  let have = 0;
  while (have < length) {
    const { bytesRead } = await file.read(bytes, have, length - have, from + have);
    if (bytesRead === 0) break;
    have += bytesRead;
  }
  return bytes.subarray(0, have);
}

async function writeOut(file: FileHandle, stream: Readable, limit: number): Promise<number> {
  let size = 0;
  // The connection stays open for the answer.
  for await (const piece of stream.iterator({ destroyOnReturn: false })) {
    const bytes = piece as Uint8Array;
    if (size + bytes.length > limit) {
      throw new Refusal(
        'too-large',
        `That is more than ${Math.floor(limit / 1024 / 1024)} megabytes. Nothing was kept; send a smaller file.`,
      );
    }
    let done = 0;
    while (done < bytes.length) done += (await file.write(bytes, done)).bytesWritten;
    size += bytes.length;
  }
  return size;
}

/**
 * Puts what is being sent on the disk, a piece at a time. Whoever asks for it closes it.
 * @param limit bytes; more are refused
 */
export async function takeUpload(stream: SentBytes, limit: number): Promise<Upload> {
  if (there >= MOST_AT_ONCE) {
    throw new Refusal(
      'reader-busy',
      'Other archives are being brought in. Nothing was kept and nothing is lost; bring this one again when they are in.',
    );
  }
  there += 1;
  let file: FileHandle | null = null;
  const close = async (): Promise<void> => {
    there -= 1;
    await file?.close();
  };
  try {
    const opened = (file = await namelessFile());
    const size = await writeOut(opened, stream, limit);
    return { size, read: (from, length) => readAt(opened, from, length), close };
  } catch (error) {
    await close();
    if (error instanceof Refusal || !stream.errored) throw error;
    throw new Refusal(
      'bad-request',
      'The archive did not arrive whole. Nothing was kept; send it again.',
    );
  }
}
