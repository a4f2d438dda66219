import type { OrderLine, OrderSheet } from '#music';
import { block, flow, RISE, textBlocks, type Block, type Piece } from './block.ts';
import { signed, titleSize } from './heading.ts';
import type { Desk } from './pages.ts';
import { MM } from './paper.ts';

/** Points on usual paper. */
const SIZE = { title: 14, facts: 10.5, when: 12 } as const;
/** The clock, and the minutes at the end of a line. */
const [CLOCK, MINUTES] = [14 * MM, 15 * MM];
/** Of what is between them, how much belongs to key and lead. */
const LEAD = 0.34;

function lineBlock({ ink, layout: { column, text } }: Desk, line: OrderLine): Block {
  const serif = (size: number) => ({ face: 'serif', size: size * text } as const); // prettier-ignore
  const rubric = { face: 'italic', size: SIZE.facts * text, colour: 'rubric' } as const;
  const figures = { face: 'sans', size: SIZE.facts * text } as const;
  const room = column - (CLOCK + MINUTES) * text;
  const lead = room * LEAD;
  // What kind it is stands beside a title that does not say so; without one it stands in its place.
  const isPlain = ['song', 'other', line.title.toLocaleLowerCase()].includes(line.kind);
  const kind = isPlain || line.title === '' ? '' : line.kind;
  const what = flow(
    ink,
    [
      { text: line.title || line.kind, style: serif(SIZE.title) },
      { text: kind, style: { ...serif(SIZE.facts), capitals: true, colour: 'faint' } },
    ],
    room - lead - 4 * MM,
    3 * MM,
  );
  const end = flow(
    ink,
    [
      { text: line.key ?? '', style: { face: 'bold', size: SIZE.facts * text } },
      { text: line.lead ? `${line.lead}${line.kind === 'song' ? ' leads' : ''}` : '', style: serif(SIZE.facts) },
    ],
    lead,
    3 * MM,
  ); // prettier-ignore
  const facts = [line.form, line.tempo].filter(Boolean).join('; ');
  const under = [
    ...[facts, line.note].map((words) => [words, serif(SIZE.facts)] as const),
    ...[...line.directions, line.onward].map((words) => [words, rubric] as const),
  ].flatMap(([words, style]) => textBlocks(ink, words, room, style));
  const minutes = line.minutes === null ? '' : `${line.minutes} min`;
  const first = Math.max(what.height, end.height);
  const height = first + under.reduce((sum, each) => sum + each.height, 0);
  return block(
    height,
    (x, y) => {
      const baseline = y + SIZE.title * text * RISE;
      ink.write(line.begins ?? '', x, baseline, figures);
      what.draw(x + CLOCK * text, y);
      end.draw(x + CLOCK * text + room - lead, y + (SIZE.title - SIZE.facts) * text * RISE);
      const wide = ink.width(minutes, figures);
      ink.write(minutes, x + column - wide, baseline, { ...figures, colour: 'faint' });
      let top = y + first;
      for (const each of under) {
        each.draw(x + CLOCK * text, top);
        top += each.height;
      }
    },
    { gap: 3.5 * MM, least: 2 * MM, turns: true },
  );
}

function headBlock({ ink, layout: { column, text } }: Desk, sheet: OrderSheet): Block {
  const when = { face: 'sans', size: SIZE.when * text } as const;
  const head = flow(
    ink,
    [
      { text: sheet.title, style: { face: 'serif', size: titleSize(text) } },
      { text: 'order of service', style: { face: 'italic', size: SIZE.when * text, colour: 'rubric' } },
    ],
    column,
    14,
  ); // prettier-ignore
  const facts = flow(ink, [sheet.when, sheet.place].map((words) => ({ text: words, style: when })), column, 5 * MM); // prettier-ignore
  return block(
    head.height + facts.height + 5,
    (x, y) => {
      head.draw(x, y);
      facts.draw(x, y + head.height);
      ink.rule(x, y + head.height + facts.height + 3, column, 1, 'ink');
    },
    { keeps: true },
  );
}

/** The order of service: when each item begins, what, in which key, who leads; then the people and what is missing. */
export function orderBlocks(desk: Desk, sheet: OrderSheet, more: readonly string[]): Block[] {
  const { ink, layout } = desk;
  const { column, text } = layout;
  const serif = { face: 'serif', size: SIZE.facts * text } as const;
  const rubric = { ...serif, face: 'italic', colour: 'rubric' } as const;
  const line = block(2 * MM, (x, y) => ink.rule(x, y, column, 0.5, 'rule'), {
    gap: 4 * MM,
    keeps: true,
  });
  const people = sheet.people.map(({ name, roles }): Piece[] => [
    { text: roles.length > 0 ? `${name}:` : name, style: serif },
    { text: roles.join(', '), style: rubric },
  ]);
  const named = people.map((pieces) => flow(ink, pieces, column, 1.5 * MM));
  return [
    headBlock(desk, sheet),
    ...sheet.lines.map((each) => lineBlock(desk, each)),
    line,
    ...textBlocks(ink, sheet.length, column, serif),
    ...sheet.missing.flatMap((words) => textBlocks(ink, signed(words), column, rubric)),
    ...more.flatMap((words) => textBlocks(ink, words, column, serif)),
    ...named.map(({ height, draw }, index) => block(height, draw, { gap: index === 0 ? 2 * MM : 0 })),
  ]; // prettier-ignore
}
