import { EasierKeys, Keys, type PlayedKey, type SheetHeading } from '#music';
import { block, flow, type Block, type Piece } from './block.ts';
import type { Ink, Style } from './ink.ts';
import { noteValue } from './note-value.ts';
import type { Desk } from './pages.ts';

export interface Headed {
  readonly heading: SheetHeading;
  readonly order: string;
  readonly introduction?: string;
  readonly played: PlayedKey | null;
  /** A key that is easier to read, where nobody chose one. */
  readonly offer: PlayedKey | undefined;
  /** Rubric that comes before everything; empty: none. */
  readonly before: string;
}

/** Points on usual paper. */
const SIZE = { title: 22, who: 12, facts: 12, rubric: 11 } as const;
/** What grows less than the rest: a title is large already. */
const TITLE_GROWS = 0.6;

export function titleSize(text: number): number {
  return SIZE.title * (1 + (text - 1) * TITLE_GROWS);
}

/** A rubric that comes after the sign of a rubric. */
export const signed = (words: string): string => (words === '' ? '' : `☞ ${words}`);

/** `♩ = 76`; what a file says and nobody confirmed stands in brackets. */
function tempoPiece(
  ink: Ink,
  tempo: NonNullable<SheetHeading['tempo']>,
  from: SheetHeading['tempoFrom'],
  style: Style,
): Piece {
  const note = noteValue(ink, tempo, style.size);
  const said = `= ${tempo.perMinute}`;
  if (!from) return { text: said, style, sign: note };
  const open = ink.width('(', style);
  const draw = (x: number, baseline: number): void => {
    ink.write('(', x, baseline, style);
    note.draw(x + open, baseline);
  };
  return { text: `${said}, from the ${from})`, style, sign: { width: open + note.width, draw } };
}

function facts(
  { ink, layout: { text } }: Desk,
  { heading: { key, meter, tempo, tempoFrom, countIn }, played }: Headed,
) {
  const style = { face: 'sans', size: SIZE.facts * text } as const;
  const faint = { ...style, colour: 'faint' } as const;
  const plain: Piece[] = [
    { text: key, style },
    { text: played ? `sounds in ${Keys.sayKey(played.sounds)}` : '', style: faint },
    { text: meter, style },
  ];
  const counted: Piece[] = tempo ? [tempoPiece(ink, tempo, tempoFrom, style)] : [];
  return [...plain, ...counted, { text: countIn, style }];
}

/** What stands over a sheet, as a hymn is headed; it stays with what comes after it. */
export function headingBlocks(desk: Desk, headed: Headed): Block[] {
  const { ink, layout } = desk;
  const { column, text } = layout;
  const { heading, order, introduction = '', before, offer } = headed;
  const rubric = (size: number) => ({ face: 'italic', size: size * text, colour: 'rubric' } as const); // prettier-ignore
  const above = flow(ink, [{ text: signed(before), style: rubric(SIZE.who) }], column, 0);
  const title = flow(
    ink,
    [
      { text: heading.title, style: { face: 'serif', size: titleSize(text) } },
      { text: heading.rubric, style: rubric(SIZE.who) },
    ],
    column,
    14,
  );
  const below = flow(ink, facts(desk, headed), column, 12 * text);
  const how = flow(
    ink,
    [
      { text: signed(heading.played?.words ?? ''), style: rubric(SIZE.who) },
      { text: offer ? signed(EasierKeys.sayEasierOnPaper(offer)) : '', style: rubric(SIZE.rubric) },
      { text: heading.called ?? '', style: rubric(SIZE.rubric) },
      { text: order, style: rubric(SIZE.rubric) },
      { text: introduction, style: rubric(SIZE.rubric) },
    ],
    column,
    14 * text,
  );
  const neck = flow(
    ink,
    (heading.neck ?? []).map((words) => ({
      text: words,
      style: { face: 'serif', size: SIZE.rubric * text },
    })),
    column,
    14 * text,
  );
  const rule = 4;
  const height = above.height + title.height + rule + below.height + how.height + neck.height + 3;
  return [
    block(
      height,
      (x, y) => {
        above.draw(x, y);
        title.draw(x, y + above.height);
        const line = y + above.height + title.height + 1;
        ink.rule(x, line, column, 1, 'ink');
        below.draw(x, line + rule - 1);
        how.draw(x, line + rule - 1 + below.height);
        neck.draw(x, line + rule - 1 + below.height + how.height);
      },
      { keeps: true },
    ),
  ];
}
