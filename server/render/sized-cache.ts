/** What was used last stays; what was not used for longest goes when the sizes together pass the limit. */
export class SizedCache<T> {
  readonly #entries = new Map<string, { readonly value: T; readonly bytes: number }>();
  readonly #limit: number;
  #bytes = 0;

  /** @param limit bytes of all values together */
  constructor(limit: number) {
    this.#limit = limit;
  }

  get bytes(): number {
    return this.#bytes;
  }

  get size(): number {
    return this.#entries.size;
  }

  get(key: string): T | undefined {
    const entry = this.#entries.get(key);
    if (!entry) return undefined;
    this.#entries.delete(key);
    this.#entries.set(key, entry);
    return entry.value;
  }

  /** A value larger than the whole cache is not kept. */
  set(key: string, value: T, bytes: number): void {
    this.#drop(key);
    if (bytes > this.#limit) return;
    this.#entries.set(key, { value, bytes });
    this.#bytes += bytes;
    for (const oldest of this.#entries.keys()) {
      if (this.#bytes <= this.#limit) break;
      this.#drop(oldest);
    }
  }

  #drop(key: string): void {
    const entry = this.#entries.get(key);
    if (!entry) return;
    this.#entries.delete(key);
    this.#bytes -= entry.bytes;
  }
}
