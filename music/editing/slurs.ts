import type { Note } from '../score/score.ts';

/** Slurs of a voice as indices of their first and last notes; what does not match is left out. */
export function slursOf(notes: readonly Note[]): (readonly [from: number, to: number])[] {
  const open: number[] = [];
  const slurs: (readonly [number, number])[] = [];
  notes.forEach(({ slurStarts, slurEnds }, i) => {
    for (let count = 0; count < (slurEnds ?? 0); count += 1) {
      const from = open.pop();
      if (from !== undefined) slurs.push([from, i]);
    }
    for (let count = 0; count < (slurStarts ?? 0); count += 1) open.push(i);
  });
  return slurs;
}

/** A note with some slurs more or less at its beginning and end. */
export function slurred(note: Note, starts: number, ends: number): Note {
  const { slurStarts = 0, slurEnds = 0, ...rest } = note;
  return {
    ...rest,
    ...(slurStarts + starts > 0 && { slurStarts: slurStarts + starts }),
    ...(slurEnds + ends > 0 && { slurEnds: slurEnds + ends }),
  };
}

/** The slurs that begin or end on certain notes are taken away at both ends. */
export function withoutSlurs(notes: readonly Note[], touched: ReadonlySet<number>): Note[] {
  const result = [...notes];
  for (const [from, to] of slursOf(notes)) {
    if (!touched.has(from) && !touched.has(to)) continue;
    result[from] = slurred(result[from] as Note, -1, 0);
    result[to] = slurred(result[to] as Note, 0, -1);
  }
  return result;
}
