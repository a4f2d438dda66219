export type Chance = () => number;

/** A small generator of numbers from 0 to 1 (mulberry32, public domain), so that a seed is a case. */
export function mulberry32(seed: number): Chance {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

export function pick<T>(chance: Chance, list: readonly T[]): T {
  return list[Math.floor(chance() * list.length)] as T;
}

export function integer(chance: Chance, from: number, to: number): number {
  return from + Math.floor(chance() * (to - from + 1));
}
