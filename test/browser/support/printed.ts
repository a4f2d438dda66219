import type { Page } from 'playwright-core';

/** Paper in points. */
export interface PaperSize {
  readonly width: number;
  readonly height: number;
}

/** One block as it came to lie on paper; pages from 1. */
export interface PrintedBlock {
  readonly name: string;
  readonly has: boolean;
  readonly first: number;
  readonly last: number;
}

export interface Printed {
  readonly pages: readonly PaperSize[];
  readonly blocks: readonly PrintedBlock[];
}

interface Marked {
  readonly name: string;
  readonly has: boolean;
}

/**
 * Prints the page and reads from the PDF itself on which page each block begins and ends. The browser writes a place
 * into the file for every element that a link of the page leads to, so the first and last point of each block get one
 * while it prints.
 *
 * @param blocks those that paper should not cut
 * @param holds told of each block as `has`: whether such an element stands in it
 * @throws where a mark is not on any page
 */
export async function printBlocks(
  page: Page,
  blocks: string,
  holds: string,
  format: 'A4' | 'Letter',
): Promise<Printed> {
  try {
    const { marked, pdf } = await printMarked(page, blocks, holds, format);
    const root = /\/Type \/Catalog[\s\S]*?\/Pages (\d+) 0 R/.exec(pdf)?.[1] ?? '';
    const ids = pagesUnder(pdf, root);
    const pageOf = (name: string): number => {
      const id = new RegExp(`/${name} \\[(\\d+) 0 R /XYZ`).exec(pdf)?.[1] ?? '';
      if (!ids.includes(id)) throw new Error(`${name} is on no page`);
      return ids.indexOf(id) + 1;
    };
    return {
      pages: ids.map((id) => sizeOf(pdf, id)),
      blocks: marked.map((each, index) => ({
        ...each,
        first: pageOf(`mark-${index}-first`),
        last: pageOf(`mark-${index}-last`),
      })),
    };
  } finally {
    await page.evaluate(unmark);
  }
}

/** The first print of a page that has just been turned sometimes holds no place at all: it is printed again. */
async function printMarked(
  page: Page,
  blocks: string,
  holds: string,
  format: 'A4' | 'Letter',
): Promise<{ marked: Marked[]; pdf: string }> {
  for (let attempt = 1; ; attempt += 1) {
    await page.evaluate(unmark);
    const marked = await page.evaluate(mark, [blocks, holds] as const);
    const pdf = (await page.pdf({ format, preferCSSPageSize: false })).toString('latin1');
    if (pdf.includes('/mark-0-first ') || attempt === 3) return { marked, pdf };
  }
}

function unmark(): void {
  document.querySelectorAll('[data-mark]').forEach((each) => each.remove());
}

function objectOf(pdf: string, id: string): string {
  return new RegExp(`\\n${id} 0 obj\\n([\\s\\S]*?)endobj`).exec(pdf)?.[1] ?? '';
}

/** Ids of the pages in order: a long file holds them in a tree (ISO 32000-1, 7.7.3.2). */
function pagesUnder(pdf: string, id: string): string[] {
  const kids = /\/Kids \[([^\]]*)\]/.exec(objectOf(pdf, id))?.[1];
  if (kids === undefined) return [id];
  return [...kids.matchAll(/(\d+) 0 R/g)].flatMap(([, kid]) => pagesUnder(pdf, kid ?? ''));
}

function sizeOf(pdf: string, id: string): PaperSize {
  const object = objectOf(pdf, id);
  const box = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(object);
  return { width: Number(box?.[1]), height: Number(box?.[2]) };
}

/** Runs in the page. The marks have no height and stand a hair inside their block. */
function mark([blocks, holds]: readonly [string, string]): Marked[] {
  return [...document.querySelectorAll<HTMLElement>(blocks)].map((block, index) => {
    const put = (place: 'first' | 'last', where: InsertPosition, shift: number): void => {
      const id = `mark-${index}-${place}`;
      const point = `<div data-mark id="${id}" style="position:relative;top:${shift}px;height:0"></div>`;
      block.insertAdjacentHTML(where, `${point}<a data-mark hidden href="#${id}"></a>`);
    };
    put('first', 'afterbegin', 1);
    put('last', 'beforeend', -1);
    return {
      name: block.getAttribute('aria-label') ?? block.textContent.trim().slice(0, 40),
      has: block.querySelector(holds) !== null,
    };
  });
}
