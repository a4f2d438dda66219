import { createHash } from 'node:crypto';
import { promisify } from 'node:util';
import { brotliCompress, brotliDecompress, constants, gunzip, gzip } from 'node:zlib';
import { SizedCache } from '../render/sized-cache.ts';

/** How the bytes of an answer travel. */
export type Encoding = 'identity' | 'gzip' | 'br';

/** A finished answer as it goes out. */
export interface KeptAnswer {
  readonly bytes: Buffer;
  readonly encoding: Encoding;
  /** Of the content, whichever way it travels. */
  readonly etag: string;
}

const brotli = promisify(brotliCompress);
const unbrotli = promisify(brotliDecompress);
const zip = promisify(gzip);
const unzip = promisify(gunzip);

async function encoded(bytes: Buffer, encoding: Encoding): Promise<Buffer> {
  if (encoding === 'gzip') return zip(bytes);
  if (encoding === 'identity') return bytes;
  return brotli(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: 5 } });
}

async function decoded({ bytes, encoding }: KeptAnswer): Promise<Buffer> {
  if (encoding === 'gzip') return unzip(bytes);
  return encoding === 'br' ? unbrotli(bytes) : bytes;
}

const ENCODINGS: readonly Encoding[] = ['identity', 'gzip', 'br'];

/** Weak: the same content may travel compressed or not. */
export function contentTag(content: string | Buffer): string {
  return `W/"${createHash('sha256').update(content).digest('base64url').slice(0, 27)}"`;
}

/**
 * Answers that take long to make, kept as they travel. What an answer depends on is its key: whoever asks names all of
 * it, the count of the team's changes among it, so that nothing kept can be stale. The same answer is made once,
 * however many ask for it at the same moment.
 */
export class KeptAnswers {
  readonly #kept: SizedCache<KeptAnswer>;
  readonly #made = new Map<string, Promise<Buffer>>();
  readonly #encoded = new Map<string, Promise<KeptAnswer>>();

  /** @param limit bytes of all answers together */
  constructor(limit = 48_000_000) {
    this.#kept = new SizedCache(limit);
  }

  get bytes(): number {
    return this.#kept.bytes;
  }

  /** @param make the value that is sent as JSON; a failure is not kept */
  answer(
    key: string,
    encoding: Encoding,
    make: () => Promise<unknown>,
  ): Promise<KeptAnswer> | KeptAnswer {
    const own = `${encoding} ${key}`;
    return this.#kept.get(own) ?? once(this.#encoded, own, () => this.#encode(key, encoding, make));
  }

  async #encode(
    key: string,
    encoding: Encoding,
    make: () => Promise<unknown>,
  ): Promise<KeptAnswer> {
    const other = ENCODINGS.map((each) => this.#kept.get(`${each} ${key}`)).find(Boolean);
    const made = other ? decoded(other) : (this.#made.get(key) ?? jsonOf(make));
    // It stands there until it is kept, so that nobody comes between the two and makes it again.
    this.#made.set(key, made);
    try {
      const plain = await made;
      const bytes = await encoded(plain, encoding);
      const answer = { bytes, encoding, etag: contentTag(plain) };
      this.#kept.set(`${encoding} ${key}`, answer, bytes.length);
      return answer;
    } finally {
      this.#made.delete(key);
    }
  }
}

async function jsonOf(make: () => Promise<unknown>): Promise<Buffer> {
  return Buffer.from(JSON.stringify(await make()));
}

/** What is underway under a key is waited for and not begun again. */
function once<T>(
  underway: Map<string, Promise<T>>,
  key: string,
  work: () => Promise<T>,
): Promise<T> {
  const same = underway.get(key);
  if (same) return same;
  const promise = work().finally(() => underway.delete(key));
  underway.set(key, promise);
  return promise;
}
