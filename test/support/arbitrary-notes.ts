import { QUARTER, type Bar, type Note, type Syllable } from '#music';
import { integer, pick, type Chance } from '#test/support/chance.ts';

const LENGTHS = [4, 3, 2, 1.5, 1, 1, 1, 0.75, 0.5, 0.5, 0.25, 0.125];
const TUPLETS = [
  { actual: 3, normal: 2, unit: 0.5 },
  { actual: 3, normal: 2, unit: 1 },
  { actual: 5, normal: 4, unit: 0.25 },
  { actual: 7, normal: 4, unit: 0.25 },
  { actual: 2, normal: 3, unit: 0.5 },
];
const WORDS = [
  'praise',
  'God',
  'al',
  'le',
  'lu',
  'ia!',
  'a-b',
  'who~m',
  'x*y',
  'z_|',
  'naïve',
  '100%',
  '\\',
  'in the',
];
/** The notes of one voice, bar by bar, with their ties, slurs and beams. */
export function notesFor(chance: Chance, bars: readonly Bar[]): Note[] {
  const notes: Note[] = [];
  for (const bar of bars) {
    let at = bar.at;
    const end = bar.at + bar.length;
    while (at < end) {
      const left = (end - at) / QUARTER;
      const tuplet = pick(chance, TUPLETS);
      if (chance() < 0.15 && tuplet.unit * tuplet.normal <= left) {
        const length = (tuplet.unit * QUARTER * tuplet.normal) / tuplet.actual;
        for (let n = 0; n < tuplet.actual; n += 1) {
          notes.push(noteAt(chance, at, length, { actual: tuplet.actual, normal: tuplet.normal }));
          at += length;
        }
        continue;
      }
      const length = Math.min(left, pick(chance, LENGTHS)) * QUARTER;
      notes.push(noteAt(chance, at, length));
      at += length;
    }
  }
  return joined(chance, notes, bars);
}

function noteAt(chance: Chance, at: number, length: number, tuplet?: Note['tuplet']): Note {
  const shared = { at, length, ...(tuplet && { tuplet }) };
  const fermata = chance() < 0.1 ? { fermata: true as const } : {};
  if (chance() < 0.15) {
    return { ...shared, pitches: [], ...(chance() < 0.3 && { hidden: true as const }), ...fermata };
  }
  const size = chance() < 0.25 ? integer(chance, 2, 3) : 1;
  const pitches = pitchSet(chance, size);
  return {
    ...shared,
    pitches,
    ...fermata,
    ...(chance() < 0.1 && { grace: [...pitchSet(chance, 1), ...pitchSet(chance, 1)] }),
    ...(chance() < 0.1 && { fingers: pitches.map(() => integer(chance, 1, 5)) }),
    ...(chance() < 0.1 && { signs: [pick(chance, ['trill', 'breath', '"^softly"', 'segno'])] }),
  };
}

function pitchSet(chance: Chance, size: number): string[] {
  const found = new Map<number, string>();
  while (found.size < size) {
    const letter = pick(chance, ['C', 'D', 'E', 'F', 'G', 'A', 'B']);
    const sign = pick(chance, ['', '', '', '', '#', 'b', '#', 'b', '##', 'bb']);
    const octave = integer(chance, 2, 6);
    const natural = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 }[letter] ?? 0;
    const alter = sign.startsWith('b') ? -sign.length : sign.length;
    found.set(12 * octave + natural + alter, `${letter}${sign}${String(octave)}`);
  }
  return [...found].sort(([a], [b]) => a - b).map(([, name]) => name);
}

/** Ties, slurs and beams between neighbours. */
function joined(chance: Chance, notes: readonly Note[], bars: readonly Bar[]): Note[] {
  const lines = new Set(bars.map((bar) => bar.at));
  const result = [...notes];
  for (let i = 0; i + 1 < result.length; i += 1) {
    const note = result[i] as Note;
    const next = result[i + 1] as Note;
    if (note.pitches.length === 0 || next.pitches.length === 0) continue;
    const drawn = (each: Note): number =>
      (each.length * (each.tuplet?.actual ?? 1)) / (each.tuplet?.normal ?? 1);
    const flagged = drawn(note) < QUARTER && drawn(next) < QUARTER && !lines.has(next.at);
    const kind = chance();
    if (kind < 0.15) {
      result[i] = { ...note, tie: true };
      const { fingers, ...unfingered } = next;
      result[i + 1] = {
        ...unfingered,
        pitches: note.pitches,
        ...(fingers && { fingers: note.pitches.map(() => 1) }),
      };
    } else if (kind < 0.3) {
      result[i] = { ...note, slurStarts: 1 };
      result[i + 1] = { ...next, slurEnds: 1 };
    }
    if (flagged && chance() < 0.6) result[i] = { ...(result[i] as Note), beam: true };
  }
  return result;
}

/** Words of several verses under the notes, among them signs that ABC must escape. */
export function withWords(chance: Chance, notes: readonly Note[], verses: number): Note[] {
  if (verses === 0) return [...notes];
  return notes.map((note) => {
    if (note.pitches.length === 0) return note;
    const syllables: (Syllable | null)[] = [];
    for (let verse = 0; verse < verses; verse += 1) {
      const text = pick(chance, WORDS);
      const syllable = chance() < 0.3 ? { text, hyphen: true as const } : { text };
      syllables.push(chance() < 0.25 ? null : syllable);
    }
    while (syllables.length > 0 && !syllables.at(-1)) syllables.pop();
    return syllables.length > 0 ? { ...note, syllables } : note;
  });
}
