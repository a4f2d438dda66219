import type { Sheet, SheetSystem, WordsPass, WordsSheet } from '#music';
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

/** One line of music: with the hand pictures above it, or where these are many for the page, one of both alone. */
export interface StaffBlock {
  readonly system: SheetSystem;
  readonly strip: boolean;
  readonly music: boolean;
}

/** One line of words: the first of a pass brings its name. A pass that is only named has one without a line. */
export interface WordsBlock {
  readonly pass: WordsPass;
  /** Index of the pass in the sheet. */
  readonly of: number;
  readonly line: WordsPass['lines'][number] | null;
  readonly first: boolean;
}

/** Hand pictures beside each other on a tablet. */
const ONE_ROW = 4;
/** Where the last block of a sheet stands: after everything. */
const END = Number.MAX_SAFE_INTEGER;

/** @param isNarrow whether each hand picture needs the whole width */
export function staffBlocks(sheet: Sheet, isNarrow: boolean): StaffBlock[] {
  const most = isNarrow ? 0 : ONE_ROW;
  return sheet.systems.flatMap((system): StaffBlock[] =>
    system.strip.length > most
      ? [
          { system, strip: true, music: false },
          { system, strip: false, music: true },
        ]
      : [{ system, strip: true, music: true }],
  );
}

export function wordsBlocks(sheet: WordsSheet): WordsBlock[] {
  return sheet.passes.flatMap((pass, of): WordsBlock[] =>
    pass.lines.length === 0
      ? [{ pass, of, line: null, first: true }]
      : pass.lines.map((line, index) => ({ pass, of, line, first: index === 0 })),
  );
}

/** What tells a sheet from the others of a person, and one answer of the server from the next. */
export function nameOf(page: Page): string {
  return `${page.item ?? ''} ${page.role} ${page.kind}`;
}

/**
 * The blocks of a sheet as its component shows them. Staff: heading with the first line, further lines, the end.
 * Words: heading with the first pass, further passes, the end. Order: heading, lines, the end.
 */
export function blocksOf(page: Page, isNarrow: boolean): Block[] {
  const sheet = nameOf(page);
  const end: Block = { begins: 'end', sheet, at: END };
  const head: Block = { begins: 'sheet', sheet, at: -1 };
  if (page.kind === 'none') return [head];
  if (page.kind === 'staff') {
    const lines = staffBlocks(page.sheet, isNarrow).map(({ system, music }, index): Block => {
      const at = 2 * system.from + (music ? 1 : 0);
      return { begins: index === 0 ? 'sheet' : 'block', sheet, at };
    });
    return [...(lines.length > 0 ? lines : [head]), end];
  }
  if (page.kind === 'order') {
    const lines = page.sheet.lines.map((_, at): Block => {
      return { begins: at === 0 ? 'kept' : 'block', sheet, at };
    });
    return [head, ...lines, end];
  }
  const lines = wordsBlocks(page.sheet).map(({ first, of }, at): Block => {
    const begins = !first ? 'line' : of > 0 ? 'block' : 'kept';
    return { begins, sheet, at };
  });
  return [head, ...lines, end];
}
