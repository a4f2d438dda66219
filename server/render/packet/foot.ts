import { paragraph } from './block.ts';
import type { Desk, PacketPage, PacketRequest } from './pages.ts';
import { MM } from './paper.ts';

/** Points on usual paper. In large print they grow by less: they are not read while playing. */
const SIZE = { running: 9, rights: 7.5, number: 9 } as const;
const GROWS = 0.6;
/** From the end of the paper to the foot, which no printer reaches into. */
const EDGE = 9 * MM;
/** What the foot may take of a page's room; longer rights stand at the end of the sheet. */
const MOST = 0.2;
const NUMBER = 24 * MM;

export interface Foot {
  /** How much of the room above the usual foot it takes. */
  readonly more: number;
  /** What did not fit; empty: everything stands in it. */
  readonly rest: readonly string[];
  readonly draw: (number: number, count: number) => void;
}

/** Whose music it is, and which page of how many. */
export function footOf({ ink, layout }: Desk, page: PacketPage): Foot {
  const { left, column, height, top, room, text } = layout;
  const grown = 1 + (text - 1) * GROWS;
  const style = { face: 'serif', size: SIZE.rights * grown, colour: 'faint' } as const;
  const credits = page.kind === 'staff' || page.kind === 'words' ? page.sheet.credits : [];
  const whole = paragraph(ink, credits.join(' '), column - NUMBER * grown, style);
  const fits = whole.height <= room * MOST;
  const rights = fits ? whole : paragraph(ink, 'Whose words and music these are stands at the end of this sheet.', column - NUMBER * grown, style); // prettier-ignore
  const bottom = height - EDGE;
  const usual = bottom - (top + room) - 3 * MM;
  return {
    more: Math.max(0, rights.height - usual),
    rest: fits ? [] : credits,
    draw: (number, count) => {
      rights.draw(left, bottom - rights.height);
      const said = `${number} of ${count}`;
      const figures = { face: 'sans', size: SIZE.number * grown } as const;
      ink.write(said, left + column - ink.width(said, figures), bottom - 2, figures);
    },
  };
}

/** Above every page: what and whose it is, and for when. */
export function runningLine({ ink, layout }: Desk, request: PacketRequest, page: PacketPage): void {
  const { left, column, top, text } = layout;
  const size = SIZE.running * (1 + (text - 1) * GROWS);
  const style = { face: 'sans', size, colour: 'faint' } as const;
  const y = top - 5 * MM;
  const right = [request.date, request.service].filter(Boolean).join(', ');
  const wide = Math.min(ink.width(right, style), column * 0.62);
  const what = [page.title, request.name].filter(Boolean).join(', ');
  ink.write(cut(what, column - wide - 4 * MM), left, y, style);
  const shown = cut(right, wide + 0.01);
  ink.write(shown, left + column - ink.width(shown, style), y, style);

  /** What does not fit ends in an ellipsis: the heading has it whole. */
  function cut(words: string, room: number): string {
    if (ink.width(words, style) <= room) return words;
    let [, ...letters] = [...`${words} `].reverse();
    while (letters.length > 0 && ink.width(`${letters.toReversed().join('')}…`, style) > room) {
      letters = letters.slice(1);
    }
    return `${letters.toReversed().join('')}…`;
  }
}
