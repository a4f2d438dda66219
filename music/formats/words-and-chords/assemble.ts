import type { Problem } from '../../result.ts';
import { signatureOf, type Key } from '../../pitch/key.ts';
import { named } from '../../score/key-finding.ts';
import {
  QUARTER,
  type Bar,
  type ChordAt,
  type KeyAt,
  type Note,
  type Pass,
  type Score,
  type Section,
  type Ticks,
} from '../../score/score.ts';
import type { Facts } from './gather-facts.ts';
import { findKey } from './find-key.ts';
import type { SongLine, SongSection } from './song.ts';

/** A song has not so many; a text that has is none, and what takes it would be slow. */
export const MOST_SECTIONS = 100;
const MOST_PASSES = 200;

interface Laid {
  readonly bars: Bar[];
  readonly notes: Note[];
  readonly chords: ChordAt[];
  readonly keys: { readonly at: Ticks; readonly key: Key }[];
  at: Ticks;
}

/** A line as a bar in free meter: each piece a rest with its syllable, a quarter long so that it has a place. */
function layLine(laid: Laid, { pieces, repeatStart, repeatEnd, key }: SongLine): void {
  const { at } = laid;
  if (key) laid.keys.push({ at, key });
  for (const { text, goesOn, chord } of pieces) {
    const syllable = text === '' ? null : goesOn ? { text, hyphen: true as const } : { text };
    const note = { at: laid.at, length: QUARTER, pitches: [] };
    laid.notes.push(syllable ? { ...note, syllables: [syllable] } : note);
    if (chord !== undefined) laid.chords.push({ at: laid.at, length: 0, chord });
    laid.at += QUARTER;
  }
  const number = laid.bars.length + 1;
  const length = laid.at - at;
  laid.bars.push({ number, at, length, line: 'single', repeatStart, repeatEnd, endings: [] });
}

/** A chord lasts until the next, or to the end of its section: what comes then depends on the order of the passes. */
function withLengths(chords: readonly ChordAt[], sections: readonly Section[]): ChordAt[] {
  let place = 0;
  return chords.map((each, i): ChordAt => {
    while ((sections[place]?.to ?? Infinity) <= each.at) place += 1;
    const to = Math.min(chords[i + 1]?.at ?? Infinity, sections[place]?.to ?? Infinity);
    return { ...each, length: to - each.at };
  });
}

const shapeOf = ({ lines }: SongSection): string =>
  JSON.stringify(lines.map(({ line: _, ...rest }) => rest));

/** `Verse 1` → `verse-1`; numbered where the name comes again with other words. */
function idOf(name: string, taken: ReadonlySet<string>): string {
  const base = name.toLowerCase().replace(/[^\p{L}\d]+/gu, '-').replace(/^-|-$/g, '') || 'section'; // prettier-ignore
  let id = base;
  for (let count = 2; taken.has(id); count += 1) id = `${base}-${count}`;
  return id;
}

/** The score of a song; problems where it cannot be one. */
export function assemble(
  facts: Facts,
  all: readonly SongSection[],
  warn: (problem: Problem) => void,
): Score | Problem {
  const laid: Laid = { bars: [], notes: [], chords: [], keys: [], at: 0 };
  const sections: Section[] = [];
  const form: Pass[] = [];
  const byShape = new Map<string, string>();
  const byName = new Map<string, string>();
  // A part puts an introduction of this id before a song that has none.
  const ids = new Set(['introduction']);
  for (const section of all) {
    const name = section.name.toLowerCase();
    const shape = `${name}\n${shapeOf(section)}`;
    const isAlone = section.lines.length === 0;
    let id = isAlone ? byName.get(name) : byShape.get(shape);
    if (isAlone && id === undefined) {
      const message = `“${section.name}” stands alone and no section of that name comes before it, so it is left out.`;
      warn({ code: 'heading-alone', message, line: section.line });
      continue;
    }
    if (id === undefined) {
      id = idOf(section.name, ids);
      ids.add(id);
      byShape.set(shape, id);
      const from = laid.at;
      for (const line of section.lines) layLine(laid, line);
      sections.push({ id, kind: section.kind, name: section.name, from, to: laid.at });
    }
    byName.set(name, id);
    for (let time = 0; time < section.times; time += 1) form.push({ section: id, verse: null });
    if (sections.length > MOST_SECTIONS || form.length > MOST_PASSES) {
      const message = `This text has more than ${sections.length > MOST_SECTIONS ? `${MOST_SECTIONS} sections` : `${MOST_PASSES} passes`}; that is no one song. Bring it in parts.`;
      return { code: 'too-many-sections', message, line: section.line };
    }
  }
  if (laid.bars.length === 0) {
    const message = 'There are no words and no chords here.';
    return { code: 'nothing-here', message, line: 1 };
  }
  const ends = new Set(sections.map(({ to }) => to));
  const bars = laid.bars.map((bar, i): Bar => {
    const isEnd = ends.has(bar.at + bar.length);
    return { ...bar, line: i === laid.bars.length - 1 ? 'final' : isEnd ? 'double' : 'single' };
  });
  const chords = withLengths(laid.chords, sections);
  const hasWords = laid.notes.some(({ syllables }) => syllables);
  return {
    facts: facts.song,
    tempo: facts.tempo,
    keys: keysOf(facts, laid, warn),
    meters: [{ at: 0, meter: { beats: null, unit: 4 } }],
    bars,
    voices: [
      {
        id: 'words',
        name: 'Words',
        group: 'Singer',
        staff: 1,
        clef: 'treble',
        notes: laid.notes,
      },
    ],
    melody: 'words',
    chords,
    sections,
    verses: hasWords ? [{ number: 1, label: '' }] : [],
    form,
    introduction: [],
    untimed: true,
  };
}

function keysOf(facts: Facts, laid: Laid, warn: (problem: Problem) => void): KeyAt[] {
  const given = [...(facts.key ? [{ at: 0, key: facts.key }] : []), ...laid.keys];
  const first = given.filter(({ at }) => at === 0).at(-1);
  const keys = given.filter(({ at }) => at > 0).map(({ at, key }) => keyAt(at, named(key)));
  if (first) return [keyAt(0, named(first.key)), ...keys];
  const to = keys[0]?.at ?? Infinity;
  const found = findKey(laid.chords.filter(({ at }) => at < to).map(({ chord }) => chord));
  warn({ code: 'guess-key', message: found.reason, line: facts.firstLine });
  return [keyAt(0, found), ...keys];
}

function keyAt(at: Ticks, found: Omit<KeyAt, 'at' | 'signature'>): KeyAt {
  return { at, signature: signatureOf(found.key), ...found };
}
