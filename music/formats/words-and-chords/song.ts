import type { Key } from '../../pitch/key.ts';
import type { SectionKind } from '../../score/score.ts';
import type { Token } from './columns.ts';
import { keyIn } from './facts.ts';
import { kindOf, type Heading } from './headings.ts';
import { lay, type Piece } from './lay.ts';
import type { KnownLine } from './line.ts';

/** A line of words, or a bar of chords alone, as it becomes one bar of the score. */
export interface SongLine {
  readonly line: number;
  readonly pieces: readonly Piece[];
  readonly repeatStart: boolean;
  readonly repeatEnd: boolean;
  /** The song changes into it here. */
  readonly key?: Key;
}

export interface SongSection {
  readonly name: string;
  readonly kind: SectionKind;
  readonly times: number;
  readonly line: number;
  readonly lines: SongLine[];
  /** Named by the text, not only by an empty line. */
  readonly isNamed: boolean;
}

/** The lines after the head as sections with their lines, in the order of the text. */
export function sectionsIn(lines: readonly KnownLine[]): SongSection[] {
  const sections: SongSection[] = [];
  let key: Key | null = null;
  let gap = true;
  const begin = (heading: Heading, line: number, isNamed: boolean): void => {
    sections.push({ ...heading, line, lines: [], isNamed });
  };
  const hasHeadings = lines.some(({ names }) => names === 'section');
  const add = (known: KnownLine, made: readonly Omit<SongLine, 'key'>[], isSung: boolean): void => {
    const isStanza = gap && !hasHeadings;
    if (sections.length === 0 || isStanza) begin(unnamed(isSung, sections), known.line, false);
    gap = false;
    const target = (sections.at(-1) as SongSection).lines;
    for (const [i, each] of made.entries()) {
      target.push({ ...each, ...(i === 0 && key && { key }) });
    }
    key = null;
  };
  for (let i = 0; i < lines.length; i += 1) {
    const known = lines[i] as KnownLine;
    if (known.as === 'blank') gap = true;
    if (known.names === 'fact' && known.fact?.kind === 'key') key = keyIn(known.fact) ?? key;
    const below = lines[i + 1];
    const over = known.as === 'chords' && below?.as === 'words' ? below : null;
    const heading = known.heading ?? over?.heading ?? null;
    if (heading && known.names !== 'title' && !isGoingOn(sections, heading)) {
      begin(heading, known.line, true);
    }
    if (known.as === 'chords') {
      add(known, over ? together(known, over) : barsOf(known), over !== null);
    } else if (known.as === 'words') add(known, together(null, known), true);
    if (over) i += 1;
    if (known.as === 'heading') gap = true;
  }
  return sections;
}

/** `Verse 1` over a line that begins with `1.` names it once. */
function isGoingOn(sections: readonly SongSection[], heading: Heading): boolean {
  const last = sections.at(-1);
  return last?.isNamed === true && last.lines.length === 0 && last.name === heading.name;
}

/** What a stanza without a heading is called: by its place, or an introduction where it has no words. */
function unnamed(isSung: boolean, before: readonly SongSection[]): Heading {
  const number = before.filter(({ kind }) => kind === 'verse').length + 1;
  const name = !isSung && before.length === 0 ? 'Introduction' : `Verse ${number}`;
  return { name, kind: kindOf(name), times: 1 };
}

function signsAt(known: KnownLine | null): Pick<SongLine, 'repeatStart' | 'repeatEnd'> {
  const bars = known?.bars ?? [];
  return {
    repeatStart: bars[0]?.text.endsWith(':') === true && bars[0].text !== ':|',
    repeatEnd: bars.at(-1)?.text.startsWith(':') === true,
  };
}

/** A line of words with the chords of the line above it. Words that a person marked up there are sung at their column. */
function together(over: KnownLine | null, words: KnownLine): SongLine[] {
  const pieces = lay([...words.sung, ...(over?.sung ?? [])], over?.chords ?? [], words.chords);
  const times = Math.max(over?.times ?? 1, words.times);
  return repeated([{ line: words.line, pieces, ...signsAt(over) }], times);
}

/** A line of chords without words: a bar for each that is written, or one where no bar line stands. */
function barsOf(known: KnownLine): SongLine[] {
  const { line, chords, sung, bars, times } = known;
  if (sung.length > 0) {
    return repeated([{ line, pieces: lay(sung, chords), ...signsAt(known) }], times);
  }
  const edges = [-1, ...bars.map(({ column }: Token) => column), Infinity];
  const made = edges.slice(1).flatMap((to, i): SongLine[] => {
    const from = edges[i] ?? -1;
    const inside = chords.filter(({ token }) => token.column > from && token.column < to);
    if (inside.length === 0) return [];
    const [start, end] = [bars[i - 1]?.text ?? '', bars[i]?.text ?? ''];
    const pieces = inside.map(({ chord }): Piece => ({ text: '', goesOn: false, chord }));
    const repeatStart = start.length > 1 && start.endsWith(':');
    return [{ line, pieces, repeatStart, repeatEnd: end.startsWith(':') }];
  });
  return repeated(made, times);
}

/** `x2` makes a repeat; more often than that is written out, as a repeat sign alone says twice. */
function repeated(lines: readonly SongLine[], times: number): SongLine[] {
  if (times < 2 || lines.length === 0) return [...lines];
  if (times > 2) return Array.from({ length: times }, () => lines).flat();
  const last = lines.length - 1;
  return lines.map((each, i) => ({
    ...each,
    repeatStart: i === 0 || each.repeatStart,
    repeatEnd: i === last || each.repeatEnd,
  }));
}
