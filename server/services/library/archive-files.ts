import { promisify } from 'node:util';
import { inflateRaw } from 'node:zlib';
import { Refusal } from '../refusal.ts';
import { directoryOf, packedBytes, type ZipEntry } from './zip-directory.ts';

/**
 * Bytes that all files of an archive may unpack to: what its own bytes come to at forty to one, and as much as a small
 * archive needs. Texts of songs come to fifteen to one; deflate can be made to give a thousand.
 */
const MOST_TO_ONE = 40;
const ALWAYS_ALLOWED = 64 * 1024 * 1024;

/** Bytes unpacked at once, so that a large file is not a thousand errands. */
const CHUNK = 256 * 1024;

const inflate = promisify(inflateRaw);

export function unreadable(why: string): Refusal {
  return new Refusal('unreadable-archive', `${why} Nothing was kept.`);
}

/** A name that would lead out of the folder it is unpacked in. Nothing is written to a disk here; it is refused all the same. */
const leadsOut = (name: string): boolean =>
  /^[/\\]|^[a-z]:|\\|\0/i.test(name) || name.split('/').some((part) => part === '..');

/**
 * The files of a zip, unpacked only when they are asked for, beside the thread that answers requests, and never larger
 * than they say they are.
 */
export class ArchiveFiles {
  readonly #bytes: Uint8Array;
  readonly #entries = new Map<string, ZipEntry>();
  #left: number;

  /** Refuses what is no zip, or none that anybody should unpack. */
  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
    this.#left = ALWAYS_ALLOWED + MOST_TO_ONE * bytes.length;
    const entries = directoryOf(bytes);
    if (!entries) throw unreadable('This is no archive of a library, or it is cut off.');
    for (const entry of entries) {
      if (leadsOut(entry.name)) {
        throw unreadable(
          'The archive has a file whose name leads out of it, which no library has.',
        );
      }
      this.#entries.set(entry.name, entry);
    }
  }

  has(name: string): boolean {
    return this.#entries.has(name);
  }

  /** Whether so much was unpacked that nothing more will be. */
  get isSpent(): boolean {
    return this.#left <= 0;
  }

  /**
   * A file; null where there is none, or none that can be unpacked.
   * @param most bytes that it may have
   */
  async take(name: string, most: number): Promise<Uint8Array | null> {
    const entry = this.#entries.get(name);
    const packed = entry && packedBytes(this.#bytes, entry);
    if (!packed || entry.size > most) return null;
    // What is unpacked in vain has cost as much.
    this.#left -= entry.size;
    if (this.isSpent) return null;
    if (entry.method === 0) return packed.length === entry.size ? packed : null;
    if (entry.method !== 8) return null;
    try {
      const file = await inflate(packed, {
        maxOutputLength: Math.max(1, entry.size),
        chunkSize: CHUNK,
      });
      return file.length === entry.size ? file : null;
    } catch {
      return null;
    }
  }
}
