/** Fields are told by bits, of which so many lie below the place of the song. */
export const FIELD_BITS = 7;
export const ALL_FIELDS = (1 << FIELD_BITS) - 1;

/** In which songs a word stands, and in which of their fields: a number each, `place << FIELD_BITS | fields`, in no order. */
export class Postings {
  #list = new Int32Array(4);
  #length = 0;

  get length(): number {
    return this.#length;
  }

  /** Longer than `length`: only so many count. */
  get list(): Int32Array {
    return this.#list;
  }

  put(place: number, fields: number): void {
    if (this.#length === this.#list.length) {
      const longer = new Int32Array(2 * this.#length);
      longer.set(this.#list);
      this.#list = longer;
    }
    this.#list[this.#length] = (place << FIELD_BITS) | fields;
    this.#length += 1;
  }

  drop(place: number): void {
    for (let i = 0; i < this.#length; i += 1) {
      if ((this.#list[i] ?? 0) >> FIELD_BITS !== place) continue;
      this.#length -= 1;
      this.#list[i] = this.#list[this.#length] ?? 0;
      return;
    }
  }
}
