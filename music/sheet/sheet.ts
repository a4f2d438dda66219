import type { PlayedKey } from '../hand/played-key.ts';
import type { TechniqueRubric } from '../hand/technique.ts';
import { symbolIn } from '../pitch/chord-symbol.ts';
import { sayKey, type Key } from '../pitch/key.ts';
import { sayNames, type NamedNotes } from '../pitch/note-names.ts';
import type { PitchName } from '../pitch/pitch.ts';
import { says } from '../pitch/says.ts';
import type { Part, PartShape } from '../parts/part.ts';
import { techniqueOf } from '../parts/part-technique.ts';
import { sayWhose } from '../parts/role-words.ts';
import { sayRungs } from '../parts/rungs.ts';
import type { Problem } from '../result.ts';
import { printedName } from '../score/copy-names.ts';
import { namePass } from '../score/pass-names.ts';
import { QUARTER, type Section, type Span, type Tempo, type Ticks } from '../score/score.ts';
import { countedTempo, keyAt } from '../score/time.ts';
import type { Engraved, EngraveRequest } from './engrave.ts';
import { stripsOf } from './strips.ts';
import { turnAfter, type Turn } from './turns.ts';
import {
  leftOutOf,
  textVerses,
  versePrinted,
  verseUnder,
  versesUnder,
  withWordsOf,
  wordsUnderVoice,
  type TextVerse,
} from './words-under.ts';
import { measuresOf, type PageMeasures, type PageRequest, type VerseUnder } from './page.ts';

/** What stands over a sheet, as a hymn is headed. */
export interface SheetHeading {
  readonly title: string;
  /** `keys, first rung, for Ines`. */
  readonly rubric: string;
  /** `F major`. */
  readonly key: string;
  /** What notes and chords are called where that is not English: `chords are numbers in the key: 1 is G; sentences keep the letters`. */
  readonly called?: string;
  /** `3/4`; empty where there is none. */
  readonly meter: string;
  /** The note that the count counts and how many a minute, a whole number: `{ note: 'quarter', dots: 0, perMinute: 76 }`. */
  readonly tempo: {
    readonly note: string;
    readonly dots: number;
    readonly perMinute: number;
  } | null;
  /** The tempo is that of a file, which nobody confirmed: it stands in brackets. */
  readonly tempoFrom?: 'file';
  readonly countIn: string;
  /** For a bass: the notes to find, a line for each string, and how they are written. */
  readonly neck?: readonly string[];
  /** Where it is read in another key than it sounds in: how, and what to put back after. */
  readonly played?: { readonly words: string; readonly reminder: string };
}

/** A picture of the hand for a shape. */
export interface HandPicture {
  /** `B♭7/D`. */
  readonly chord: string;
  readonly notes: readonly PitchName[];
  readonly fingers: readonly number[];
  readonly left: PartShape['left'];
  readonly words: string;
}

/** One line of music with what stands around it. */
export interface SheetSystem {
  readonly svg: string;
  /** CSS pixels. */
  readonly width: number;
  readonly height: number;
  /** Numbers of its bars, in order; the introduction and the pickup have none and are 0. */
  readonly bars: readonly number[];
  readonly from: Ticks;
  readonly to: Ticks;
  /** In the margin of the first system of a section: its name, and how it is played. */
  readonly margin: { readonly section: string; readonly directions: readonly string[] } | null;
  /** How a page can be turned after it: a section ends with it, or a hand of the player rests; null: neither. */
  readonly turn: Turn | null;
  /** Above the music: on the first system the shapes of the song, or of its first page; then new ones. */
  readonly strip: readonly HandPicture[];
}

export interface Sheet {
  readonly heading: SheetHeading;
  /** What is new and that it is enough; stands at the foot. */
  readonly summary: string;
  readonly introduction: string;
  /** In which order everything is played: `introduction once, then verses 1 to 5`. */
  readonly order: string;
  /** Numbers of the verses that are sung and can stand under the notes, as they are sung, and which does. */
  readonly verses: { readonly all: readonly number[]; readonly under: VerseUnder };
  /** The verses that are sung and do not, as text after the music. */
  readonly words: readonly TextVerse[];
  /** The hardest changes, the hardest first. */
  readonly practice: readonly string[];
  /** How the body plays it: lines of common practice that can be hidden. */
  readonly technique?: readonly TechniqueRubric[];
  /** What the part could not do whole, and does instead; before it the line of a bass in numbers, where chords are numbers. */
  readonly remarks: readonly string[];
  readonly cautions: readonly string[];
  /** Who wrote and who holds the rights, as the source says it. */
  readonly credits: readonly string[];
  readonly measures: PageMeasures;
  readonly glyphs: string;
  /** The right hand is on its third rung or above: a stand puts its pictures away until they are asked for. */
  readonly knowsShapes?: boolean;
  readonly systems: readonly SheetSystem[];
}

const RUNG: Readonly<Record<Part['level'], string>> = {
  beginner: 'first rung',
  intermediate: 'second rung',
  advanced: 'third rung',
};

/** From this rung of the right hand on its shapes are known (ours). */
const KNOWS_SHAPES = 3;

const NOTE_NAMES: readonly (readonly [ticks: Ticks, note: string])[] = [
  [QUARTER * 4, 'whole'],
  [QUARTER * 2, 'half'],
  [QUARTER, 'quarter'],
  [QUARTER / 2, 'eighth'],
  [QUARTER / 4, '16th'],
];

/** A tempo by the note that is counted. */
export function tempoOf(tempo: Tempo | null): SheetHeading['tempo'] {
  if (!tempo) return null;
  const perMinute = Math.round(tempo.perMinute);
  for (const [ticks, note] of NOTE_NAMES) {
    if (tempo.beat === ticks) return { note, dots: 0, perMinute };
    if (tempo.beat === ticks * 1.5) return { note, dots: 1, perMinute };
  }
  const quarters = Math.round((tempo.perMinute * tempo.beat) / QUARTER);
  return { note: 'quarter', dots: 0, perMinute: quarters };
}

/** A voice is a voice: its part has no rungs, a harmony voice has a line. At the keys each hand has its own rung. */
function rungOf({ role, level, rungs, line }: Part): string {
  if (role.endsWith('voice')) return line ?? '';
  return rungs ? sayRungs(rungs) : RUNG[level];
}

/** What a heading says of the names of notes; nothing where they are English. */
export function calledIn(
  names: NamedNotes | undefined,
  key: Key | undefined,
): Pick<SheetHeading, 'called'> {
  const called = sayNames(names ?? 'english', key ?? null);
  return called === '' ? {} : { called };
}

/** @param played where the part is written in another key than it sounds in */
export function headingOf(
  part: Part,
  player: { readonly name: string },
  played: PlayedKey | null = null,
): SheetHeading {
  const { score } = part;
  const meter = score.meters[0]?.meter;
  const key = score.keys[0]?.key;
  return {
    title: score.facts.title,
    rubric: sayWhose(part.role, rungOf(part), player.name),
    key: key ? sayKey(key) : '',
    ...calledIn(part.names, key),
    meter: !meter || meter.beats === null ? '' : `${meter.beats}/${meter.unit}`,
    tempo: tempoOf(meter ? countedTempo(meter, score.tempo) : score.tempo),
    ...(part.tempoFrom && score.tempo && { tempoFrom: part.tempoFrom }),
    countIn: part.countIn,
    ...(part.neck ? { neck: part.neck } : {}),
    ...(played ? { played: { words: played.words, reminder: played.reminder } } : {}),
  };
}

/** What a sheet's engraver is asked for. */
export function request(part: Part, page: PageRequest): EngraveRequest {
  const verse = versePrinted(part.score, page.verse);
  const score = withWordsOf(part.score, verse);
  const [first] = part.printed ?? [];
  const shown = first === undefined ? score : wordsUnderVoice(score, first, { pickups: true });
  return {
    score: shown,
    page: { ...page, verse },
    ...(part.printed ? { voices: part.printed } : {}),
    ...(part.names && part.names !== 'english' ? { names: part.names } : {}),
  };
}

/** The section that begins in a stretch of the score, or null. */
function beginsIn(sections: readonly Section[], from: Ticks, to: Ticks): Section | null {
  return sections.find((section) => section.from >= from && section.from < to) ?? null;
}

function sectionName({ score, names }: Part, section: Section, verse: VerseUnder): string {
  if (section.kind !== 'verse' || section.copyOf !== undefined || verse === 'all')
    return printedName(score, section, says(names));
  const under = verseUnder(score, section, verse);
  const sung = score.form.filter((pass) => pass.section === section.id && pass.verse !== null);
  return under !== null && (sung.length > 1 || under > 1) ? namePass(section, under) : section.name;
}

const pictureOf = ({ names = 'english', score }: Part, shape: PartShape): HandPicture => ({
  chord: symbolIn(shape.chord, names, keyAt(score, shape.at).key),
  notes: shape.notes,
  fingers: shape.fingers,
  left: shape.left,
  words: shape.words,
});

/** The engraved systems with their margin and the pictures of hands that stand above them. */
export function systemsOf(part: Part, verse: VerseUnder, engraved: Engraved): SheetSystem[] {
  const { bars, sections } = part.score;
  const leftOut = leftOutOf(part.score);
  const spans = engraved.systems.map((system): Span => {
    const own = bars.slice(system.from, system.to + 1);
    const last = own.at(-1);
    const from = own[0]?.at ?? 0;
    return { from, to: last ? last.at + last.length : from };
  });
  const strips = stripsOf(part.shapes, spans);
  return engraved.systems.map((system, index): SheetSystem => {
    const own = bars.slice(system.from, system.to + 1);
    const { from, to } = spans[index] as Span;
    const section = beginsIn(sections, from, to);
    const directions = part.directions.find((each) => each.section === section?.id);
    return {
      svg: system.svg,
      width: system.width,
      height: system.height,
      bars: own.map(({ number }) => number),
      from,
      to,
      margin: section && {
        section: sectionName(part, section, verse),
        directions: [
          ...(leftOut.includes(section) ? ['left out'] : []),
          ...(directions?.words ?? []),
        ],
      },
      turn: turnAfter(part, to, engraved.systems.length === index + 1),
      strip: (strips[index] ?? []).map((shape) => pictureOf(part, shape)),
    };
  });
}

/** `Verse in numbers: 1 5 | 4 ♯4 | 5 | 1`, section by section, for a bass whose chords are numbers. */
function lineInNumbers({ names, numbers = [], score }: Part): string[] {
  if (names !== 'numbers') return [];
  return numbers.map(({ section, words }) => {
    const found = score.sections.find(({ id }) => id === section);
    const name = found ? printedName(score, found) : '';
    return `${name} in numbers: ${words.join(' | ')}`;
  });
}

/**
 * A whole sheet: heading, systems and foot, ready to be laid out.
 * @param warnings those the part was built with
 * @param played where the part is written in another key than it sounds in
 */
export function of(
  part: Part,
  player: { readonly name: string },
  page: PageRequest,
  engraved: Engraved,
  warnings: readonly Problem[] = [],
  played: PlayedKey | null = null,
): Sheet {
  const { facts } = part.score;
  const verse = versePrinted(part.score, page.verse);
  return {
    heading: headingOf(part, player, played),
    summary: part.summary,
    introduction: part.introduction,
    order: part.order,
    verses: { all: versesUnder(part.score), under: verse },
    words: textVerses(part.score, verse),
    practice: part.practice,
    technique: techniqueOf(part),
    remarks: [...new Set([...lineInNumbers(part), ...warnings.map(({ message }) => message)])],
    cautions: part.cautions,
    credits: [...facts.credits, ...(facts.rights ? [facts.rights] : [])],
    measures: measuresOf(page),
    glyphs: engraved.glyphs,
    ...((part.rungs?.right ?? 1) >= KNOWS_SHAPES && { knowsShapes: true }),
    systems: systemsOf(part, verse, engraved),
  };
}
