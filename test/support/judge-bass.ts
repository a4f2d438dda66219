import {
  ChordSymbol,
  Pitches,
  Time,
  type Chord,
  type Note,
  type Part,
  type Score,
  type Ticks,
} from '#music';

const midi = (pitch: string): number => Pitches.midiOf(pitch);
export const notesOf = (part: Part, id: string): readonly Note[] =>
  part.score.voices.find((each) => each.id === id)?.notes ?? [];
const barOf = (score: Score, at: Ticks): string => `bar ${Time.barAt(score, at).number} (${at})`;
const tonesOf = (chord: Chord): number[] => [
  ...ChordSymbol.pitchClassesOf(chord),
  Pitches.pitchClassOf(chord.bass ?? chord.root),
];

/** Bars that are not full, notes over bar lines or outside the register, more than one note at a time. */
export function lineFaults(part: Part, lowest: string, highest: string): string[] {
  const { score } = part;
  let end = 0;
  const faults = notesOf(part, 'bass').flatMap(({ at, length, pitches }) => {
    const bar = Time.barAt(score, at);
    const where = `${pitches.join(' ')} in ${barOf(score, at)}`;
    const found = [
      ...(at !== end ? [`a gap or an overlap: ${where}`] : []),
      ...(length <= 0 || at + length > bar.at + bar.length ? [`over the bar line: ${where}`] : []),
      ...(pitches.length > 1 ? [`two at once: ${where}`] : []),
      ...(pitches.some((each) => midi(each) < midi(lowest) || midi(each) > midi(highest))
        ? [`outside the register: ${where}`]
        : []),
    ];
    end = at + length;
    return found;
  });
  return end === Time.endOf(score) ? faults : [...faults, 'ends early'];
}

/** What sounds under each chord as it begins. */
export function firstNotes(part: Part): { chord: Chord; at: Ticks; pitch: string | null }[] {
  return part.score.chords.flatMap(({ at, chord }) => {
    const note = notesOf(part, 'bass').find((each) => each.at <= at && at < each.at + each.length);
    return chord ? [{ chord, at, pitch: note?.pitches[0] ?? null }] : [];
  });
}

interface Sounding {
  readonly from: Ticks;
  readonly to: Ticks;
  readonly key: number;
}

/** Notes as they sound: what is struck again at once counts as one. */
function soundings(notes: readonly Note[]): Sounding[] {
  const all: Sounding[] = [];
  let open: Sounding[] = [];
  for (const { at, length, pitches } of notes) {
    const now = pitches.map((pitch): Sounding => {
      const before = open.find(({ key, to }) => key === midi(pitch) && to === at);
      return { from: before?.from ?? at, to: at + length, key: midi(pitch) };
    });
    for (const each of open)
      if (!now.some(({ from, key }) => from === each.from && key === each.key)) all.push(each);
    open = now;
  }
  return [...all, ...open];
}

/**
 * Where a note of the bass stands a half step (in any octave) from one of the other part for more than a felt beat, unless
 * some chord there has both, so that its symbol says so. Parts must stand on one time line.
 */
export function clashes(bass: Part, other: Part, ids: readonly string[]): string[] {
  const { score } = bass;
  const low = soundings(notesOf(bass, 'bass'));
  return ids.flatMap((id) =>
    soundings(notesOf(other, id)).flatMap((high) =>
      low.flatMap((each) => {
        const [from, to] = [Math.max(each.from, high.from), Math.min(each.to, high.to)];
        const apart = (((high.key - each.key) % 12) + 12) % 12;
        if (to <= from || (apart !== 1 && apart !== 11)) return [];
        if (to - from <= Time.feltBeat(Time.meterAt(score, from))) return [];
        const said = score.chords.some(
          ({ at, length, chord }) =>
            chord &&
            at < to &&
            at + length > from &&
            [each.key, high.key].every((key) => tonesOf(chord).includes(key % 12)),
        );
        return said ? [] : [`${each.key} under ${high.key} of ${id} in ${barOf(score, from)}`];
      }),
    ),
  );
}

/** Whether a pitch is in a chord, its written bass counted. */
export const isIn = (chord: Chord, pitch: string): boolean =>
  tonesOf(chord).includes(midi(pitch) % 12);
