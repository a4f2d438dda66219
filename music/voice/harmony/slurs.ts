import type { Note } from '../../score/score.ts';

/**
 * Where a slur of the tune goes over notes that the line holds on one pitch, they are one note: tied, and the slur falls away
 * where nothing else is under it (a slur over one pitch is read as a tie; a singer would not know which is meant).
 */
export function heldUnderSlurs(notes: readonly Note[]): Note[] {
  const tied = new Set<number>();
  const dropped = { starts: new Map<number, number>(), ends: new Map<number, number>() };
  const open: number[] = [];
  notes.forEach((note, i) => {
    for (let k = 0; k < (note.slurEnds ?? 0); k++) {
      const from = open.pop();
      if (from === undefined) continue;
      const joins = Array.from({ length: i - from }, (_, step) => from + step);
      const held = joins.filter((place) => goesOn(notes[place], notes[place + 1]));
      for (const place of held) tied.add(place);
      if (held.length < joins.length) continue;
      dropped.starts.set(from, (dropped.starts.get(from) ?? 0) + 1);
      dropped.ends.set(i, (dropped.ends.get(i) ?? 0) + 1);
    }
    for (let k = 0; k < (note.slurStarts ?? 0); k++) open.push(i);
  });
  return notes.map((note, i): Note => {
    const { slurStarts = 0, slurEnds = 0, ...plain } = note;
    const starts = slurStarts - (dropped.starts.get(i) ?? 0);
    const ends = slurEnds - (dropped.ends.get(i) ?? 0);
    return {
      ...plain,
      ...(starts > 0 ? { slurStarts: starts } : {}),
      ...(ends > 0 ? { slurEnds: ends } : {}),
      ...(tied.has(i) ? { tie: true } : {}),
    };
  });
}

/** The same pitch without a syllable of its own, right after. */
function goesOn(note: Note | undefined, next: Note | undefined): boolean {
  if (!note || !next) return false;
  const isSung = next.syllables?.some((syllable) => syllable !== null) ?? false;
  return !isSung && next.pitches.length > 0 && note.pitches.at(-1) === next.pitches.at(-1);
}
