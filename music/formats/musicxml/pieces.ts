import { requirePitch, type PitchName } from '../../pitch/pitch.ts';
import { heldNotes } from '../../score/held-words.ts';
import { barLength, unitTicks } from '../../score/time.ts';
import type { Bar, Meter, Note, Section, Syllable, Ticks, Voice } from '../../score/score.ts';
import { flagsOf, noteValues, type NoteValue } from './note-value.ts';

/** A written note: a note of the score, or what is left of it after bar lines and note values have cut it. */
export interface Piece {
  readonly note: Note;
  /** From the start of its bar. */
  readonly at: Ticks;
  readonly value: NoteValue;
  /** The note begins here (syllables, graces, fingers, slur starts). */
  readonly first: boolean;
  /** The note ends here (slur ends, fermata). */
  readonly last: boolean;
  readonly tiedFrom: readonly PitchName[];
  readonly tiedTo: readonly PitchName[];
  /** A rest that fills its bar. */
  readonly wholeBar: boolean;
  /** Per beam level, from the first: `begin`, `continue`, `end`, `forward hook`, `backward hook`. */
  readonly beams: readonly string[];
  readonly tuplet: 'start' | 'stop' | 'start stop' | null;
  /** Per verse: how its syllable stands in its word; null where none starts here. */
  readonly words: readonly (Word | null)[];
}

export interface Word {
  readonly text: string;
  readonly syllabic: 'single' | 'begin' | 'middle' | 'end';
  /** The vowel goes on over following notes. */
  readonly extend: boolean;
}

type Draft = { -readonly [K in keyof Piece]: Piece[K] } & { bar: number; joins: boolean };

/** A voice cut into written notes, bar by bar; words are told to end where a section of the score does. */
export function piecesOf(
  voice: Voice,
  bars: readonly Bar[],
  meterOf: (bar: Bar) => Meter,
  sections: readonly Section[] = [],
): Piece[][] {
  const drafts: Draft[] = [];
  let index = 0;
  for (const note of voice.notes) {
    const end = note.at + note.length;
    const before = drafts.length;
    while (index > 0 && (bars[index]?.at ?? 0) > note.at) index--;
    for (let at = note.at; at < end;) {
      while (index < bars.length - 1 && (bars[index + 1] as Bar).at <= at) index++;
      const bar = bars[index] as Bar;
      const until = index === bars.length - 1 ? end : Math.min(end, bar.at + bar.length);
      drafts.push(...segment(note, bar, index, at, until - at, meterOf(bar)));
      at = until;
    }
    const own = drafts.slice(before);
    own.forEach((draft, k) => {
      draft.first = k === 0;
      draft.last = k === own.length - 1;
      if (k > 0) draft.tiedFrom = note.pitches;
      if (k < own.length - 1) draft.tiedTo = note.pitches;
    });
  }
  joinTies(drafts);
  markBeams(drafts);
  markTuplets(drafts);
  setWords(drafts, voice.notes, sections);
  const perBar: Piece[][] = bars.map(() => []);
  for (const draft of drafts) perBar[draft.bar]?.push(draft);
  return perBar;
}

function segment(
  note: Note,
  bar: Bar,
  index: number,
  at: Ticks,
  length: Ticks,
  meter: Meter,
): Draft[] {
  const inBar = at - bar.at;
  const wholeBar =
    note.pitches.length === 0 &&
    length === bar.length &&
    (bar.number !== 0 || length === barLength(meter));
  const values: NoteValue[] = wholeBar
    ? [{ length, type: null, dots: 0, ratio: null }]
    : noteValues(inBar, length, unitTicks(meter.unit), note.tuplet ?? null);
  let offset = inBar;
  return values.map((value) => {
    const draft: Draft = {
      note,
      at: offset,
      value,
      first: false,
      last: false,
      tiedFrom: [],
      tiedTo: [],
      wholeBar,
      beams: [],
      tuplet: null,
      words: [],
      bar: index,
      joins: false,
    };
    offset += value.length;
    return draft;
  });
}

function joinTies(drafts: readonly Draft[]): void {
  drafts.forEach((draft, k) => {
    const next = drafts[k + 1];
    if (!draft.last || !draft.note.tie || !next?.first) return;
    const kept = draft.note.pitches.filter((pitch) => next.note.pitches.includes(pitch));
    draft.tiedTo = kept;
    next.tiedFrom = kept;
  });
}

/** Beams as the source groups them: a group is a run of notes with flags in one bar. */
function markBeams(drafts: readonly Draft[]): void {
  const flags = (draft: Draft | undefined) =>
    draft && draft.note.pitches.length > 0 ? flagsOf(draft.value.type) : 0;
  drafts.forEach((draft, k) => {
    const next = drafts[k + 1];
    draft.joins =
      draft.last &&
      draft.note.beam === true &&
      flags(draft) > 0 &&
      flags(next) > 0 &&
      next?.bar === draft.bar;
  });
  drafts.forEach((draft, k) => {
    const before = drafts[k - 1];
    const joined = before?.joins === true;
    if (!joined && !draft.joins) return;
    draft.beams = Array.from({ length: flags(draft) }, (_, level) => {
      const left = joined && flags(before) > level;
      const right = draft.joins && flags(drafts[k + 1]) > level;
      if (left && right) return 'continue';
      if (right) return 'begin';
      if (left) return 'end';
      return joined ? 'backward hook' : 'forward hook';
    });
  });
}

/** A tuplet is full when its notes together last a whole number of the plain notes that it stands for. */
function markTuplets(drafts: readonly Draft[]): void {
  let open: Draft | null = null;
  let written = 0;
  let shortest = Infinity;
  drafts.forEach((draft, k) => {
    const ratio = draft.value.ratio;
    if (!ratio) return;
    const plain = (draft.value.length * ratio.actual) / ratio.normal;
    if (!open) {
      open = draft;
      written = 0;
      shortest = Infinity;
    }
    written += plain;
    shortest = Math.min(shortest, plain / (2 - 2 ** -draft.value.dots));
    const after = drafts[k + 1];
    const goesOn =
      after?.value.ratio?.actual === ratio.actual &&
      after.value.ratio.normal === ratio.normal &&
      after.bar === draft.bar;
    const full =
      Math.abs(written / (shortest * ratio.actual) - 1) < 1e-9 ||
      written % (shortest * ratio.actual) === 0;
    if (full || !goesOn) {
      draft.tuplet = open === draft ? 'start stop' : 'stop';
      if (open !== draft) open.tuplet = 'start';
      open = null;
    }
  });
}

function setWords(
  drafts: readonly Draft[],
  notes: readonly Note[],
  sections: readonly Section[],
): void {
  // Words stand under notes, and under a rest that has some: a pickup that another voice sings.
  const starts = drafts.filter(
    ({ first, note }) => first && (note.pitches.length > 0 || note.syllables !== undefined),
  );
  const verses = Math.max(0, ...starts.map((draft) => draft.note.syllables?.length ?? 0));
  for (let verse = 0; verse < verses; verse++) {
    let inWord = false;
    const held = heldNotes(notes, verse, sections);
    starts.forEach((draft, k) => {
      const next = starts[k + 1]?.note;
      const syllable: Syllable | null = draft.note.syllables?.[verse] ?? null;
      const words = [...draft.words];
      words[verse] = null;
      if (syllable) {
        const goesOn = syllable.hyphen === true;
        const syllabic = inWord ? (goesOn ? 'middle' : 'end') : goesOn ? 'begin' : 'single';
        words[verse] = {
          text: syllable.text,
          syllabic,
          extend: !goesOn && next !== undefined && held.has(next),
        };
        inWord = goesOn;
      }
      draft.words = words;
    });
  }
}

const ACCIDENTAL: Readonly<Record<number, string>> = {
  [-3]: 'triple-flat',
  [-2]: 'flat-flat',
  [-1]: 'flat',
  0: 'natural',
  1: 'sharp',
  2: 'double-sharp',
  3: 'triple-sharp',
};
const SHARPS = ['F', 'C', 'G', 'D', 'A', 'E', 'B'] as const;

/** Semitones of alteration that a key signature gives each letter. */
function signatureAlter(letter: string, signature: number): number {
  const place = SHARPS.indexOf(letter as (typeof SHARPS)[number]);
  if (signature > 0) return place < signature ? 1 : 0;
  return 6 - place < -signature ? -1 : 0;
}

/**
 * The accidentals to print in one bar of one staff. An accidental holds for its line to the end of the bar, for
 * every voice of the staff (common practice); a note tied over the bar line needs none.
 */
export function accidentals(
  voices: readonly (readonly Piece[])[],
  signature: number | ((at: Ticks) => number),
): Map<Piece, ReadonlyMap<PitchName, string>> {
  const found = new Map<Piece, ReadonlyMap<PitchName, string>>();
  const state = new Map<number, number>();
  const inOrder = voices.flat().sort((a, b) => a.at - b.at);
  for (const piece of inOrder) {
    const signs = new Map<PitchName, string>();
    const graces = piece.first ? (piece.note.grace ?? []) : [];
    for (const name of [...graces, ...piece.note.pitches]) {
      const pitch = requirePitch(name);
      const inKey = typeof signature === 'number' ? signature : signature(piece.at);
      const now = state.get(pitch.step) ?? signatureAlter(pitch.letter, inKey);
      if (now === pitch.alter || piece.tiedFrom.includes(name)) continue;
      signs.set(name, ACCIDENTAL[pitch.alter] ?? 'other');
      state.set(pitch.step, pitch.alter);
    }
    found.set(piece, signs);
  }
  return found;
}
