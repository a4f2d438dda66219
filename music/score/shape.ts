/**
 * Readers of untrusted JSON: each makes a value of its type anew, with nothing in it that the type does not name, or
 * throws a `Misshapen` with the path of the first thing that does not fit. They never recurse further than the type.
 */
export type Shape<T> = (value: unknown, path: string) => T;

export class Misshapen extends Error {
  readonly path: string;
  constructor(path: string, words: string) {
    super(words);
    this.path = path;
  }
}

export const text =
  (longest: number): Shape<string> =>
  (value, path) => {
    if (typeof value !== 'string') throw new Misshapen(path, 'is not a text');
    if (value.length > longest) throw new Misshapen(path, `has more than ${longest} letters`);
    return value;
  };

export const integer =
  (from: number, to: number): Shape<number> =>
  (value, path) => {
    if (typeof value !== 'number' || !Number.isSafeInteger(value) || value < from || value > to) {
      throw new Misshapen(path, `is not a whole number from ${from} to ${to}`);
    }
    // −0 is a number of its own once it is compared.
    return value === 0 ? 0 : value;
  };

export const number =
  (from: number, to: number): Shape<number> =>
  (value, path) => {
    if (typeof value !== 'number' || !(value >= from && value <= to)) {
      throw new Misshapen(path, `is not a number from ${from} to ${to}`);
    }
    return value;
  };

export const flag: Shape<boolean> = (value, path) => {
  if (typeof value !== 'boolean') throw new Misshapen(path, 'is not true or false');
  return value;
};

export const always: Shape<true> = (value, path) => {
  if (value !== true) throw new Misshapen(path, 'is not true');
  return value;
};

export const oneOf =
  <const T extends string>(values: readonly T[]): Shape<T> =>
  (value, path) => {
    const found = values.find((each) => each === value);
    if (found === undefined) throw new Misshapen(path, `is none of ${values.join(', ')}`);
    return found;
  };

export const orNull =
  <T>(shape: Shape<T>): Shape<T | null> =>
  (value, path) =>
    value === null ? null : shape(value, path);

/** A text that a rule accepts: a pitch, a note name. */
export const named =
  (is: (text: string) => boolean, what: string): Shape<string> =>
  (value, path) => {
    if (typeof value !== 'string' || value.length > 20 || !is(value)) {
      throw new Misshapen(path, `is no ${what}`);
    }
    return value;
  };

export const list =
  <T>(shape: Shape<T>, most: number, least = 0): Shape<readonly T[]> =>
  (value, path) => {
    if (!Array.isArray(value)) throw new Misshapen(path, 'is not a list');
    if (value.length > most) throw new Misshapen(path, `has more than ${most} entries`);
    if (value.length < least) throw new Misshapen(path, 'is empty');
    // A hole of a sparse array is read like any other place.
    return Array.from({ length: value.length }, (_, i) => shape(value[i], `${path}[${i}]`));
  };

export const pair =
  <A, B>(first: Shape<A>, second: Shape<B>): Shape<readonly [A, B]> =>
  (value, path) => {
    if (!Array.isArray(value) || value.length !== 2) throw new Misshapen(path, 'is not a pair');
    return [first(value[0], `${path}[0]`), second(value[1], `${path}[1]`)];
  };

type Fields<T> = { readonly [K in keyof T]-?: Shape<Exclude<T[K], undefined>> };

type OptionalKeys<T> = { [K in keyof T]-?: undefined extends T[K] ? K : never }[keyof T];

/** An object with these fields. One that is optional may be missing; whatever else it has is left out. */
export const object =
  <T extends object>(fields: Fields<T>, optional: readonly OptionalKeys<T>[] = []): Shape<T> =>
  (value, path) => {
    if (typeof value !== 'object' || value === null || Array.isArray(value)) {
      throw new Misshapen(path, 'is not an object');
    }
    const result: Partial<Record<keyof T, unknown>> = {};
    for (const key of Object.keys(fields) as (keyof T & string)[]) {
      const own = Object.hasOwn(value, key) ? (value as Record<string, unknown>)[key] : undefined;
      const isOptional = (optional as readonly unknown[]).includes(key);
      if (own === undefined && isOptional) continue;
      if (own === undefined) throw new Misshapen(`${path}.${key}`, 'is missing');
      result[key] = fields[key](own, `${path}.${key}`);
    }
    return result as T;
  };
