import { scaleLinear } from 'd3-scale';
import {
  symbol,
  symbolCircle,
  symbolCross,
  symbolDiamond,
  symbolSquare,
  symbolTriangle,
  type SymbolType,
} from 'd3-shape';
import { Keys, Room, type Key, type KeyInRoom, type RoomGroupId } from '#music';

/** Keys of which a row says what they are. */
export interface KnownKeys {
  readonly written: Key;
  /** null: there is none. */
  readonly usual: Key | null;
  readonly chosen: Key;
}

interface Mark {
  readonly group: RoomGroupId;
  readonly x: number;
  readonly y: number;
  /** Outline round its middle. */
  readonly outline: string;
}

export interface KeyRow {
  readonly key: Key;
  readonly name: string;
  /** A line each: `written, usual`, `most sing`. */
  readonly is: readonly string[];
  readonly isChosen: boolean;
  readonly percent: string;
  /** `D major, 93 % of the room, as written` */
  readonly label: string;
  readonly top: number;
  /** Where its bar ends. */
  readonly end: number;
  readonly marks: readonly Mark[];
}

/** All lengths in CSS pixels. */
export interface KeysPicture {
  readonly height: number;
  readonly row: number;
  /** From here bars go to the right. */
  readonly zero: number;
  readonly ticks: readonly { readonly x: number; readonly words: string }[];
  readonly rows: readonly KeyRow[];
}

/** Room for two lines of words, and more than a finger's height (WCAG 2.2: 44 px). */
const ROW = 58;
const HEAD = 24;
const NAME = 138;
const FIGURE = 52;
const BAR = 12;
/** Middle of the bar, from the top of its row, and of the marks below it. */
export const BAR_AT = { y: 14, height: BAR } as const;
const MARKS = 27;
const LANE = 8;
const LANES = 4;
const SIZE = 40;
/** Marks nearer than this stand one below the other. */
const APART = 10;

const SHAPES: Readonly<Record<RoomGroupId, SymbolType>> = {
  women: symbolCircle,
  men: symbolSquare,
  'women over 65': symbolDiamond,
  'men over 65': symbolTriangle,
  children: symbolCross,
};

export function outlineOf(group: RoomGroupId): string {
  return symbol(SHAPES[group], SIZE)() ?? '';
}

/** A row for each key: a bar of people times time, and under it each group's own, by its shape. */
export function drawKeys(rows: readonly KeyInRoom[], known: KnownKeys, width: number): KeysPicture {
  const x = scaleLinear([0, 1], [NAME, Math.max(NAME + 80, width - FIGURE)]);
  const most = Math.max(...rows.map(({ share }) => Math.round(100 * share)));
  return {
    height: HEAD + rows.length * ROW,
    row: ROW,
    zero: NAME,
    ticks: [0, 0.5, 1].map((at) => ({ x: x(at), words: Room.percent(at) })),
    rows: rows.map((row, i): KeyRow => {
      const { key, share } = row;
      const isMost = Math.round(100 * share) === most;
      const is = [whatIs(key, known), isMost ? 'most sing' : ''].filter((words) => words !== '');
      const percent = Room.percent(share);
      return {
        key,
        name: Keys.sayTonic(key),
        is,
        isChosen: Keys.sameKey(key, known.chosen),
        percent,
        label: `${Keys.sayKey(key)}, ${percent} of the room${is.map((words) => `, ${words}`).join('')}`,
        top: HEAD + i * ROW,
        end: x(share),
        marks: marksOf(row, x),
      };
    }),
  };
}

function whatIs(key: Key, { written, usual }: KnownKeys): string {
  const words = [
    ...(Keys.sameKey(key, written) ? ['written'] : []),
    ...(usual && Keys.sameKey(key, usual) ? ['usual'] : []),
  ];
  return words.join(', ');
}

/** From left to right; one that would stand in another goes one lane down, as far as there are lanes. */
function marksOf({ groups }: KeyInRoom, x: (share: number) => number): Mark[] {
  const ends: number[] = [];
  return groups
    .map(({ group, share }) => ({ group, x: x(share) }))
    .toSorted((one, other) => one.x - other.x)
    .map((mark) => {
      const free = ends.findIndex((end) => mark.x - end >= APART);
      const lane = free >= 0 ? free : Math.min(ends.length, LANES - 1);
      ends[lane] = mark.x;
      return { ...mark, y: MARKS + lane * LANE, outline: outlineOf(mark.group) };
    });
}

/** Which row an arrow, Home or End leads to; null: not one of these keys. */
export function rowAfter(key: string, from: number, count: number): number | null {
  if (key === 'ArrowDown' || key === 'ArrowRight') return (from + 1) % count;
  if (key === 'ArrowUp' || key === 'ArrowLeft') return (from + count - 1) % count;
  if (key === 'Home') return 0;
  return key === 'End' ? count - 1 : null;
}
