import { block, textBlocks, type Block } from './block.ts';
import { placesOn } from './break-pages.ts';
import { footOf, runningLine, type Foot } from './foot.ts';
import { signed, titleSize } from './heading.ts';
import { Ink } from './ink.ts';
import { missingSigns } from './missing-signs.ts';
import { orderBlocks } from './order-sheet.ts';
import { fewestLeaves } from './leaves.ts';
import type { Desk, PacketPage, PacketRequest } from './pages.ts';
import { layoutFor, tighter } from './paper.ts';
import { staffBlocks } from './staff-sheet.ts';
import { wordsBlocks } from './words-sheet.ts';

/** How many times as much as they can be tightened the gaps of a page may widen to fill it: lines of music by 6 mm. */
const WIDER = 2.4;

/** A page that has no sheet says why. */
function reasonBlocks({ ink, layout }: Desk, title: string, reason: string): Block[] {
  const { column, text } = layout;
  const rubric = { face: 'italic', size: 13 * text, colour: 'rubric' } as const;
  return [
    ...textBlocks(ink, title, column, { face: 'serif', size: titleSize(text) }),
    block(6, () => undefined),
    ...textBlocks(ink, signed(reason), column, rubric),
  ];
}

function blocksOf(desk: Desk, page: PacketPage, before: string, { rest }: Foot): Block[] {
  const more = [...missingSigns(desk.ink, page), ...rest];
  switch (page.kind) {
    case 'staff':
      return staffBlocks(desk, { ...page, before, more });
    case 'words':
      return wordsBlocks(desk, { ...page, before, more });
    case 'order':
      return orderBlocks(desk, page.sheet, more);
    case 'none':
      return reasonBlocks(desk, page.title, page.reason);
  }
}

/** Puts blocks on pages; says how many pages they took. */
function layOut(desk: Desk, request: PacketRequest, page: PacketPage, before: string): Foot[] {
  const { ink, layout } = desk;
  const foot = footOf(desk, page);
  const room = layout.room - foot.more;
  function* ways(): Generator<Block[]> {
    for (const each of tighter(layout, request.print))
      yield blocksOf({ ink, layout: each }, page, before, foot);
  }
  const leaves = fewestLeaves(ways(), room);
  return leaves.map(({ blocks, below }, index) => {
    ink.doc.addPage();
    if (index === 0) ink.doc.outline.addItem(page.title);
    runningLine(desk, request, page);
    const own = room - (below ? below.least + below.height : 0);
    const isLast = index === leaves.length - 1;
    placesOn(blocks, own, isLast ? 0 : WIDER).forEach((y, at) => {
      blocks[at]?.draw(layout.left, layout.top + y);
    });
    below?.draw(layout.left, layout.top + room - below.height);
    return foot;
  });
}

function nothing({ name, service }: PacketRequest): PacketPage {
  const reason = `Nothing is planned yet for ${service} that ${name} plays or sings.`;
  return { kind: 'none', title: name, reason };
}

/**
 * Everything one person plays or sings from in a service as one document. The same request gives the same bytes.
 * Fonts are embedded with the letters that are used; words can be selected.
 */
export async function bind(request: PacketRequest): Promise<Uint8Array> {
  const layout = layoutFor(request.paper, request.print);
  const { name, service, date, day, plain = false } = request;
  const ink = new Ink(layout, {
    compress: !plain,
    info: {
      Title: [name, service, date].filter(Boolean).join(', '),
      Creator: 'Partbook',
      Producer: 'Partbook',
      CreationDate: new Date(`${day}T00:00:00Z`),
    },
  });
  const { doc } = ink;
  const done = new Promise<Uint8Array>((resolve, reject) => {
    const chunks: Buffer[] = [];
    doc.on('data', (chunk: Buffer) => chunks.push(chunk));
    doc.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    doc.on('error', reject);
  });
  const desk: Desk = { ink, layout };
  const pages = request.pages.length > 0 ? request.pages : [nothing(request)];
  const feet = pages.flatMap((page, index) =>
    layOut(desk, request, page, request.before[index] ?? ''),
  );
  feet.forEach((foot, index) => {
    doc.switchToPage(index);
    foot.draw(index + 1, feet.length);
  });
  doc.end();
  return done;
}
