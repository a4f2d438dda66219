import { promisify } from 'node:util';
import { inflateRaw } from 'node:zlib';
import { Refusal } from '../refusal.ts';
import { directoryOf, packedBytes, type Bytes, type ZipEntry } from './zip-directory.ts';

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
  readonly #zip: Bytes;
  readonly #entries = new Map<string, ZipEntry>();
  #left: number;

  private constructor(zip: Bytes, entries: readonly ZipEntry[]) {
    this.#zip = zip;
    this.#left = ALWAYS_ALLOWED + MOST_TO_ONE * zip.size;
    for (const entry of entries) this.#entries.set(entry.name, entry);
  }

  /** Refuses what is no zip, or none that anybody should unpack. */
  static async open(zip: Bytes): Promise<ArchiveFiles> {
    const entries = await directoryOf(zip);
    if (!entries) throw unreadable('This is no archive of a library, or it is cut off.');
    if (entries.some(({ name }) => leadsOut(name))) {
      throw unreadable('The archive has a file whose name leads out of it, which no library has.');
    }
    return new ArchiveFiles(zip, entries);
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
    // What is packed is hardly more than what it unpacks to: one that says so would be read in vain.
    if (!entry || entry.size > most || entry.packed > most + CHUNK) return null;
    const packed = await packedBytes(this.#zip, entry);
    if (!packed) return null;
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
