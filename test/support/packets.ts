import { Parts, Sheets, WordsSheets, type Arrangement, type Role, type Score } from '#music';
import type { PacketPage, PacketRequest } from '#server/render/packet/pages.ts';
import { engravedFor, type Paper, type Print } from '#server/render/packet/paper.ts';
import type { Renderer } from '#server/render/renderer.ts';
import type { PdfPage } from './read-pdf.ts';

/** Points of one millimetre: 72 to the inch of 25.4 mm. */
const MM = 72 / 25.4;

const arrangementOf = (score: Score): Arrangement => {
  const key = score.keys[0]?.key;
  if (!key) throw new Error('a hymn has a key');
  return { key, tempo: null, density: 'half bar', form: null };
};

export interface Layout {
  readonly paper?: Paper;
  readonly print?: Print;
}

/** A hymn’s sheet for Ines, engraved for paper. */
export async function madePage(
  renderer: Renderer,
  score: Score,
  role: Role,
  { paper = 'A4', print = 'usual' }: Layout = {},
): Promise<Extract<PacketPage, { kind: 'staff' }>> {
  const player = { id: 'i', name: 'Ines', role, level: 'intermediate', reach: 14, voice: null, rungs: { right: 3, left: 3, pedal: 0, texture: 3 } } as const;
  const built = Parts.build(score, arrangementOf(score), player, { roles: [role] });
  if (!built.ok) throw new Error(built.problems[0]?.message);
  const page = { ...engravedFor(paper, print), textScale: 1, verse: null };
  const engraved = await renderer.engrave(Sheets.request(built.value, page));
  const sheet = Sheets.of(built.value, player, page, engraved, built.warnings);
  return { kind: 'staff', title: score.facts.title, played: null, sheet };
} // prettier-ignore

export function wordsPage(score: Score): Extract<PacketPage, { kind: 'words' }> {
  const written = WordsSheets.of(score, arrangementOf(score), { name: 'Ines', role: 'guitar' });
  if (!written.ok) throw new Error('the words can be written');
  return { kind: 'words', title: score.facts.title, played: null, sheet: written.value };
}

export const packetRequest = (pages: readonly PacketPage[], facts: Partial<PacketRequest> = {}): PacketRequest => ({
  paper: 'A4',
  print: 'usual',
  name: 'Ines',
  service: 'Morning service',
  date: 'Sunday, 29 November 2026',
  day: '2026-11-29',
  pages,
  before: [],
  plain: true,
  ...facts,
}); // prettier-ignore

/** The staves of a page in points from its top: five lines from the same left to the same right, evenly apart. */
export function stavesOf({ lines }: PdfPage): { readonly top: number; readonly height: number }[] {
  const level = lines.filter(({ from, to }) => from[1] === to[1] && to[0] - from[0] > 20 * MM);
  const staves: { top: number; height: number }[] = [];
  for (let at = 0; at + 5 <= level.length; at++) {
    const five = level.slice(at, at + 5);
    const [first, last] = [five[0], five[4]];
    if (!first || !last || five.some(({ from, to }) => from[0] !== first.from[0] || to[0] !== first.to[0])) continue; // prettier-ignore
    const steps = five.slice(1).map(({ from }, i) => from[1] - (five[i]?.from[1] ?? 0));
    if (steps.every((step) => step > 0 && Math.abs(step - (steps[0] ?? 0)) < 0.01)) {
      staves.push({ top: first.from[1], height: last.from[1] - first.from[1] });
      at += 4;
    }
  }
  return staves;
}
