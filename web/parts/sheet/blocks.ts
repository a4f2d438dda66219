import type { Sheet, SheetSystem, TechniqueRubric, WordsPass, WordsSheet } from '#music';
import type { Page } from '#server/contract/pages.ts';

/**
 * How a block stands after the one before: on a new page, apart from it, apart but kept with it, going on with it, or
 * apart as the end of its sheet.
 */
type Begins = 'sheet' | 'block' | 'kept' | 'line' | 'end';

/** What is laid on pages, in order; `at` is where it stands in its sheet. */
export interface Block {
  readonly begins: Begins;
  readonly sheet: string;
  readonly at: number;
}

/** A row of the hand pictures above a line of music, or the line itself. */
export interface StaffBlock {
  readonly system: SheetSystem;
  /** Which of the pictures above the line stand in this row, from and to before; null: it is the line. */
  readonly row: readonly [from: number, to: number] | null;
  /** It goes on with what is before it, without a gap. */
  readonly goesOn: boolean;
  /** Pictures that stand after the last line of music. */
  readonly isAfter?: boolean;
}

/** One line of words: the first of a pass brings its name. A pass that is only named has one without a line. */
export interface WordsBlock {
  readonly pass: WordsPass;
  /** Index of the pass in the sheet. */
  readonly of: number;
  readonly line: WordsPass['lines'][number] | null;
  readonly first: boolean;
}

/** CSS px between the margins of the page, from which hand pictures stand in fours; below in twos. */
const IN_FOURS = 838;
/** On a page wider than this at most so many pictures are kept with their line of music. */
const [WIDE, WITH_MUSIC] = [700, 4];
/** Where the end of a sheet begins: after everything. */
const END = 2 ** 52;

/** A paragraph of the end of a sheet, or several that belong together. */
export interface EndBlock {
  readonly kind: 'reminder' | 'practice' | 'technique' | 'remark' | 'cautions' | 'credits';
  readonly words: readonly string[];
}

/** What a page is laid for. */
export interface PageRoom {
  /** Between the margins of the page, in CSS px. */
  readonly width: number;
  /** Size of the words against the usual. */
  readonly text: number;
  /** Hand pictures of those who know the shapes are put away. */
  readonly shapesAway?: boolean;
}

/** How many pictures of the hand are put away in a sheet, if they are at all. */
export function shapesIn({ systems, knowsShapes = false }: Sheet): number {
  return knowsShapes ? systems.reduce((sum, { strip }) => sum + strip.length, 0) : 0;
}

/** Whether hand pictures stand in fours: large letters need more room beside their picture, small ones no less. */
export function isInFours({ width, text }: PageRoom): boolean {
  return width >= IN_FOURS * Math.max(1, text);
}

/**
 * The lines of music after the heading, in order, each with the rows of pictures before it. Where they stand in fours, one
 * row is before the first line, so that music is on the first page, and the others come after the last.
 */
export function staffBlocks(sheet: Sheet, room: PageRoom): StaffBlock[] {
  const blocks = inOrder(sheet, room);
  const from = blocks.findIndex(({ row }) => row && row[0] > 0);
  const line = blocks.findIndex(({ row }) => row === null);
  if (!isInFours(room) || from < 0 || from > line) return blocks;
  const others = blocks
    .slice(from, line)
    .map((block, i): StaffBlock => ({ ...block, goesOn: i > 0, isAfter: true }));
  return [...blocks.slice(0, from), ...blocks.slice(line), ...others];
}

function inOrder(sheet: Sheet, room: PageRoom): StaffBlock[] {
  const many = isInFours(room) ? 4 : 2;
  const most = room.width < WIDE ? 0 : WITH_MUSIC;
  const isAway = room.shapesAway === true && sheet.knowsShapes === true;
  return sheet.systems.flatMap((system, index): StaffBlock[] => {
    const count = isAway ? 0 : system.strip.length;
    const rows = Array.from({ length: Math.ceil(count / many) }, (_, i): StaffBlock => {
      const row = [i * many, Math.min(count, (i + 1) * many)] as const;
      return { system, row, goesOn: i > 0 || index === 0 };
    });
    const goesOn = count === 0 ? index === 0 : count <= most;
    return [...rows, { system, row: null, goesOn }];
  });
}

/** Where a block stands in its sheet: pictures before the line they belong to, whatever rows they are in. */
function placeOf({ system, row, isAfter }: StaffBlock): number {
  if (row && isAfter) return END / 2 + row[0];
  return system.from + (row ? row[0] / (2 * system.strip.length) : 0.5);
}

export function wordsBlocks(sheet: WordsSheet): WordsBlock[] {
  return sheet.passes.flatMap((pass, of): WordsBlock[] =>
    pass.lines.length === 0
      ? [{ pass, of, line: null, first: true }]
      : pass.lines.map((line, index) => ({ pass, of, line, first: index === 0 })),
  );
}

/** How the body plays it, where a sheet says so. */
export function techniqueIn(sheet: Sheet | WordsSheet): readonly TechniqueRubric[] {
  return 'systems' in sheet ? (sheet.technique ?? []) : [];
}

/** The end of a sheet, in order: what to put back, what to practise, what to know, and whose it is. */
export function endBlocks(sheet: Sheet | WordsSheet): EndBlock[] {
  const { heading, remarks, cautions, credits } = sheet;
  const practice = 'systems' in sheet ? [sheet.summary, ...sheet.practice] : [];
  const technique = techniqueIn(sheet).map(({ text }) => text);
  const each = (kind: EndBlock['kind'], all: readonly string[]): EndBlock[] =>
    all.filter((words) => words !== '').map((words) => ({ kind, words: [words] }));
  return [
    ...each('reminder', [heading.played?.reminder ?? '']),
    ...each('practice', practice),
    ...(technique.length > 0 ? [{ kind: 'technique', words: technique } as const] : []),
    ...each('remark', remarks),
    ...(cautions.length > 0 ? [{ kind: 'cautions', words: cautions } as const] : []),
    { kind: 'credits', words: credits },
  ];
}

/** What tells a sheet from the others of a person, and one answer of the server from the next. */
export function nameOf(page: Page): string {
  return `${page.item ?? ''} ${page.role} ${page.kind}`;
}

/**
 * The blocks of a sheet as its component shows them. Staff: heading, rows of pictures and lines of music, the end.
 * Words: heading with the first pass, further passes, the end. Order: heading, lines, the end.
 */
export function blocksOf(page: Page, room: PageRoom): Block[] {
  const sheet = nameOf(page);
  const head: Block = { begins: 'sheet', sheet, at: -1 };
  if (page.kind === 'none') return [head];
  const parts = page.kind === 'order' ? [null] : endBlocks(page.sheet);
  const end = parts.map((_, index): Block => {
    return { begins: index === 0 ? 'end' : 'line', sheet, at: END + index };
  });
  if (page.kind === 'staff') {
    const lines = staffBlocks(page.sheet, room).map((block): Block => {
      return { begins: block.goesOn ? 'line' : 'block', sheet, at: placeOf(block) };
    });
    return [head, ...lines, ...end];
  }
  if (page.kind === 'order') {
    const lines = page.sheet.lines.map((_, at): Block => {
      return { begins: at === 0 ? 'kept' : 'block', sheet, at };
    });
    return [head, ...lines, ...end];
  }
  const lines = wordsBlocks(page.sheet).map(({ first, of }, at): Block => {
    const begins = !first ? 'line' : of > 0 ? 'block' : 'kept';
    return { begins, sheet, at };
  });
  return [head, ...lines, ...end];
}
