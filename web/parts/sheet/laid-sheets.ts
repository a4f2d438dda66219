import type { Page } from '#server/contract/pages.ts';
import { blocksOf, type Block, type PageRoom } from './blocks.ts';

/** A sheet with the blocks it is laid in. */
export interface LaidSheet {
  readonly page: Page;
  /** Place of its first block among those of all sheets. */
  readonly first: number;
  readonly blocks: readonly Block[];
}

/** All sheets of a person, one after another. */
export function laidSheets(pages: readonly Page[], room: PageRoom): LaidSheet[] {
  let first = 0;
  return pages.map((page): LaidSheet => {
    const blocks = blocksOf(page, room);
    const laid = { page, first, blocks };
    first += blocks.length;
    return laid;
  });
}

/** The outlines that the sheets are drawn with, each once. */
export function glyphsOf(pages: readonly Page[]): string[] {
  return [...new Set(pages.flatMap((page) => (page.kind === 'staff' ? [page.sheet.glyphs] : [])))];
}
