import { unzipSync, type UnzipFileInfo } from 'fflate';
import { Refusal } from '../refusal.ts';

/** Of one file as it is unpacked, and of all of them, in bytes; a hymn's largest has two hundred thousand. */
const LARGEST_FILE = 16 * 1024 * 1024;
const LARGEST_ARCHIVE = 1024 * 1024 * 1024;
const MOST_FILES = 300_000;

function unreadable(why: string): Refusal {
  return new Refusal('unreadable-archive', `${why} Nothing was kept.`);
}

/** A name that would lead out of the folder it is unpacked in. Nothing is written to a disk here; it is refused all the same. */
const leadsOut = (name: string): boolean =>
  /^[/\\]|^[a-z]:|\\|\0/i.test(name) || name.split('/').some((part) => part === '..');

/** The files of a zip, unpacked only when they are asked for and never larger than they say they are. */
export class ArchiveFiles {
  readonly #bytes: Uint8Array;
  readonly #sizes = new Map<string, number>();

  /** Refuses what is no zip, or none that anybody should unpack. */
  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
    let total = 0;
    const look = ({ name, originalSize }: UnzipFileInfo): boolean => {
      if (leadsOut(name)) {
        throw unreadable(
          'The archive has a file whose name leads out of it, which no library has.',
        );
      }
      total += originalSize;
      this.#sizes.set(name, originalSize);
      if (total > LARGEST_ARCHIVE || this.#sizes.size > MOST_FILES) {
        throw unreadable('The archive would unpack to more than any library holds.');
      }
      return false;
    };
    try {
      unzipSync(bytes, { filter: look });
    } catch (error) {
      if (error instanceof Refusal) throw error;
      throw unreadable('This is no archive of a library, or it is cut off.');
    }
  }

  has(name: string): boolean {
    return this.#sizes.has(name);
  }

  /** The files of these names that are there and can be unpacked; one that cannot keeps no other out. */
  take(names: readonly string[]): ReadonlyMap<string, Uint8Array> {
    const wanted = names.filter((name) => (this.#sizes.get(name) ?? Infinity) <= LARGEST_FILE);
    const all = this.#unpack(new Set(wanted));
    if (all) return all;
    const each = wanted.map((name) => this.#unpack(new Set([name])) ?? new Map<string, never>());
    return new Map(each.flatMap((found) => [...found]));
  }

  #unpack(names: ReadonlySet<string>): Map<string, Uint8Array> | null {
    if (names.size === 0) return new Map();
    try {
      const found = unzipSync(this.#bytes, { filter: ({ name }) => names.has(name) });
      return new Map(Object.entries(found));
    } catch {
      return null;
    }
  }
}
