import type { Note } from '../../score/score.ts';

/**
 * Where the tune moves on within a syllable, or under a slur, and the line stays on its pitch, that is one note: tied, and a
 * slur that goes over nothing else falls away (over one pitch it is read as a tie; a singer would not know which is meant).
 */
export function heldOn(notes: readonly Note[]): Note[] {
  const tied = new Set(withinSyllables(notes));
  const dropped = { starts: new Map<number, number>(), ends: new Map<number, number>() };
  const open: number[] = [];
  notes.forEach((note, i) => {
    for (let k = 0; k < (note.slurEnds ?? 0); k++) {
      const from = open.pop();
      if (from === undefined) continue;
      const joins = Array.from({ length: i - from }, (_, step) => from + step);
      const held = joins.filter((place) => staysOn(notes[place], notes[place + 1]));
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

const hasWords = ({ syllables }: Note): boolean =>
  syllables?.some((syllable) => syllable !== null) ?? false;

/** The same pitch without a syllable of its own, right after. */
function staysOn(note: Note | undefined, next: Note | undefined): boolean {
  if (!note || !next || hasWords(next)) return false;
  return next.pitches.length > 0 && note.pitches.at(-1) === next.pitches.at(-1);
}

/** Places of notes that are held on into the next one within a syllable; where nothing is sung to words there are none. */
function withinSyllables(notes: readonly Note[]): number[] {
  let isSung = false;
  return notes.flatMap((note, i) => {
    if (note.pitches.length === 0) isSung = false;
    else if (hasWords(note)) isSung = true;
    return isSung && staysOn(note, notes[i + 1]) ? [i] : [];
  });
}
