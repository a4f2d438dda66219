import { Editing, QUARTER, type Ticks } from '#music';

/** A note value as it is chosen before a note is written. */
export interface EntryLength {
  /** 1 a whole note, 2 a half … 16 a sixteenth. */
  readonly base: Base;
  readonly dotted: boolean;
  /** Three in the time of two. */
  readonly triplet: boolean;
}

export const BASES = [1, 2, 4, 8, 16] as const;
export type Base = (typeof BASES)[number];

export const QUARTER_NOTE: EntryLength = { base: 4, dotted: false, triplet: false };

const TRIPLET = { actual: 3, normal: 2 } as const;

/** As a drawn note names them. */
export const BASE_NAMES: Readonly<Record<Base, string>> = {
  1: 'whole',
  2: 'half',
  4: 'quarter',
  8: 'eighth',
  16: '16th',
};

export function ticksOf({ base, dotted, triplet }: EntryLength): Ticks {
  const plain = ((QUARTER * 4) / base) * (dotted ? 1.5 : 1);
  return triplet ? (plain * TRIPLET.normal) / TRIPLET.actual : plain;
}

/** What a note of that length carries besides. */
export function tupletOf({ triplet }: EntryLength): { tuplet?: typeof TRIPLET } {
  return triplet ? { tuplet: TRIPLET } : {};
}

/** `dotted quarter`, `eighth of a triplet`; other lengths in quarters: `2½ quarters`. */
export function sayLength(ticks: Ticks): string {
  for (const base of BASES) {
    for (const [dotted, triplet] of [
      [false, false],
      [true, false],
      [false, true],
    ] as const) {
      if (ticksOf({ base, dotted, triplet }) !== ticks) continue;
      const name = base === 16 ? 'sixteenth' : BASE_NAMES[base];
      return `${dotted ? 'dotted ' : ''}${name}${triplet ? ' of a triplet' : ''}`;
    }
  }
  return Editing.sayLength(ticks).replace(/^an? /, '');
}
