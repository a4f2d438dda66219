import { afterAll, describe, expect, it } from 'vitest';
import type { Role } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { madePage, packetRequest, stavesOf } from '#test/support/packets.ts';
import { readPdf, type PdfPage } from '#test/support/read-pdf.ts';
import { createRenderer } from '../renderer.ts';
import { bind } from './packet.ts';
import { layoutFor, MM, type Paper, type Print } from './paper.ts';

const renderer = createRenderer();
afterAll(() => renderer.close());

const HYMNS = [
  'Holy_Holy_Holy-Nicaea',
  'Be_Thou_My_Vision-Slane',
  'Abide_With_Me-Eventide',
  'Blessed_Assurance-Blessed_Assurance-Assurance',
];
const ROLES: readonly Role[] = ['keys', 'bass', 'lead voice'];
/** Staves of one line of music: the singer's and both hands', or one. */
const STAVES = (role: Role): number => (role === 'keys' ? 3 : 1);

async function pagesOf(name: string, role: Role, paper: Paper, print: Print): Promise<readonly PdfPage[]> {
  const page = await madePage(renderer, hymn(`${name}.abc`), role, { paper, print });
  return readPdf(await bind(packetRequest([page], { paper, print }))).pages;
} // prettier-ignore

/** Where the foot begins: with the highest of the close lines of small letters at the end of the page. */
function footOf({ texts }: PdfPage, usual: number, print: Print): number {
  const [size, apart] = print === 'large' ? [10, 14] : [7.6, 11];
  const small = texts.filter((each) => each.size < size).map(({ y }) => y).sort((a, b) => b - a); // prettier-ignore
  let at = 0;
  while ((small[at] ?? 0) - (small[at + 1] ?? -Infinity) < apart) at += 1;
  return Math.min(usual, (small[at] ?? Infinity) - size - 3 * MM);
}

/** The lowest of what stands between the line that runs above a page and its foot. */
function lowest({ texts, lines }: PdfPage, top: number, foot: number): number {
  const written = texts.map(({ y }) => y);
  const drawn = lines.flatMap(({ from, to }) => [from[1], to[1]]);
  return Math.max(...[...written, ...drawn].filter((y) => y > top && y < foot));
}

/** Between two lines of music, at the least. */
const LEAST_GAP = 1.5 * MM;
/** Figures for the fingers of the lowest hand stand this near under its staff. */
const FIGURES = 20 * MM;

/** Where a line of music ends: with its lowest staff, or the figures for the fingers under that. */
function lineEnd({ texts }: PdfPage, staff: { readonly top: number; readonly height: number }) {
  const bottom = staff.top + staff.height;
  const figures = texts.filter(
    ({ text, y }) => /^[1-5]$/.test(text) && y > bottom && y < bottom + FIGURES,
  );
  return Math.max(bottom, ...figures.map(({ y }) => y));
}

describe.each(['A4', 'Letter'] as const)('The pages of a sheet on %s', (paper) => {
  describe.each(['usual', 'large'] as const)('in %s print', (print) => {
    const { top, room } = layoutFor(paper, print);

    it.each(ROLES)('are filled, and the end of one for %s stands under its music', async (role) => {
      for (const name of HYMNS) {
        const pages = await pagesOf(name, role, paper, print);
        const said = `${name}, ${role}, ${pages.length} pages`;
        const feet = pages.map((page) => footOf(page, top + room, print));
        const ends = pages.map((page, i) => lowest(page, top - 3 * MM, feet[i] ?? 0));
        pages.slice(1).forEach((page, i) => {
          const own = (ends[i] ?? 0) - top;
          const free = (feet[i] ?? 0) - top - own;
          const staves = stavesOf(page);
          const first = staves[STAVES(role) - 1];
          const follows = (first ? lineEnd(page, first) : (ends[i + 1] ?? 0)) - top + LEAST_GAP;
          // Half full, unless what follows would not fit there.
          if (own < room / 2) expect(follows, `${said}, page ${i + 1}`).toBeGreaterThan(free);
          // A page without music comes only where it does not fit under the music before it.
          if (staves.length === 0) expect(follows, `${said}, page ${i + 2}`).toBeGreaterThan(free);
        });
      }
    }); // prettier-ignore
  });

  it('hold three lines of a singer and two hands, and never one alone', async () => {
    const counts: number[] = [];
    for (const name of HYMNS) {
      const pages = await pagesOf(name, 'keys', paper, 'usual');
      counts.push(...pages.map((page) => stavesOf(page).length / STAVES('keys')));
    }
    expect(counts.every(Number.isInteger)).toBe(true);
    expect(Math.max(...counts)).toBeGreaterThanOrEqual(3);
    expect(counts).not.toContain(1);
  });
});
