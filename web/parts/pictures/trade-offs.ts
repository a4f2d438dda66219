import { curveMonotoneY, line } from 'd3-shape';
import { scalePoint } from 'd3-scale';
import { KeyFit, Keys, PlayersInKey, type FrontRow, type Key } from '#music';

type Cost = FrontRow['costs'][number];

/** Room for a key's name on an axis, in px. */
const SLOT = 26;
/** Room at both ends of an axis, so that words and lines are not cut off. */
const EDGE = 10;
/** Room between two values of an axis, at least. */
const GAP = 10;
/** Where things lie on an axis, from its top: its name, the line with the keys on it, the values under them. */
const LABEL_AT = 20;
const NAMES_AT = 46;
const VALUES_AT = 68;
const AXIS = 88;
/** A character of the small type is about so wide. */
const CHARACTER = 7.2;

interface Value {
  readonly x: number;
  readonly words: string;
  readonly isShown: boolean;
  readonly isHere: boolean;
}

interface Axis {
  readonly label: string;
  readonly top: number;
  readonly values: readonly Value[];
}

interface Line {
  readonly name: string;
  readonly key: Key;
  readonly label: string;
  readonly d: string;
  readonly at: readonly { readonly x: number; readonly y: number }[];
  readonly x: number;
  readonly isHere: boolean;
  readonly isChosen: boolean;
  readonly isDominated: boolean;
}

export interface DrawnTrades {
  readonly height: number;
  readonly axes: readonly Axis[];
  /** What is the same in every key, in words: it has no axis. */
  readonly alike: readonly string[];
  /** What is faint first, the key that is looked at last, so that it lies on top. */
  readonly lines: readonly Line[];
  /** From the lowest key to the highest. */
  readonly keys: readonly Line[];
  readonly button: number;
}

/** What an axis is called: who, and what is counted. */
export function nameOf({ dimension, words, player }: Cost): string {
  if (player) {
    const counted = player.role === 'bass' ? 'time on open strings' : player.ease.unit;
    return `${PlayersInKey.sayPlayer(player)}: ${counted}`;
  }
  if (dimension === 'voice') return words.slice(0, words.indexOf(': '));
  if (dimension === 'distance') return 'half steps from the home key';
  if (dimension === 'usual') return 'half steps from the usual key';
  return dimension === 'signature' ? 'sharps or flats to read' : 'hands';
}

/** What stands at a place of an axis. */
export function valueOf({ dimension, value, words, player }: Cost): string {
  if (player?.role === 'bass') return `${100 - player.ease.value} %`;
  if (dimension === 'voice')
    return words
      .slice(words.indexOf(': ') + 2)
      .replace(' the range', '')
      .replace(/ of the .*$/, '');
  return String(Math.round(value * 10) / 10);
}

/** `Elias on the guitar: 2 barre changes`, `1 barre change`. */
function sayAlike(cost: Cost): string {
  const { player } = cost;
  const unit = player?.ease.value === 1 ? player.ease.unit.replace(/s$/, '') : player?.ease.unit;
  const counted = player?.role === 'bass' ? 'on open strings' : unit;
  if (player && counted) return `${PlayersInKey.sayPlayer(player)}: ${valueOf(cost)} ${counted}`;
  return `${nameOf(cost)}: ${valueOf(cost)}`;
}

/** Centres of the keys on one axis, hardest left: keys of one value stand together, the values spread over the width. */
function placesOn(costs: readonly number[], width: number): { xs: number[]; groups: number[] } {
  const values = [...new Set(costs)].sort((a, b) => b - a);
  const taken = costs.length * SLOT;
  const gap = Math.max(GAP, (width - 2 * EDGE - taken) / Math.max(1, values.length - 1));
  const xs = costs.map(() => 0);
  let left = EDGE;
  const groups = values.map((value) => {
    const here = costs.flatMap((cost, i) => (cost === value ? [i] : []));
    here.forEach((i, place) => (xs[i] = left + (place + 0.5) * SLOT));
    const centre = left + (here.length * SLOT) / 2;
    left += here.length * SLOT + gap;
    return centre;
  });
  return { xs, groups };
}

interface Words {
  readonly x: number;
  readonly words: string;
  readonly isHere: boolean;
}

/** Words that would run into others are left out: first come the key that is looked at, then the ends. */
function shown(values: readonly Words[], width: number): Value[] {
  const placed: { from: number; to: number }[] = [];
  const rank = ({ isHere }: Words, i: number): number =>
    isHere ? 0 : i === 0 || i === values.length - 1 ? 1 : 2;
  const order = values
    .map((value, i) => ({ value, i }))
    .sort((a, b) => rank(a.value, a.i) - rank(b.value, b.i));
  const result: Value[] = [];
  for (const { value, i } of order) {
    const half = (value.words.length * CHARACTER) / 2;
    const x = Math.min(Math.max(value.x, half + 2), Math.max(half, width - half - 2));
    const isShown = placed.every(({ from, to }) => x + half + 4 < from || x - half - 4 > to);
    if (isShown) placed.push({ from: x - half, to: x + half });
    result[i] = { ...value, x, isShown };
  }
  return result;
}

/**
 * The keys that stay as lines across one axis for each dimension, easier to the right. On each axis the keys stand in the
 * order of what they cost, those that are equal together.
 */
export function drawTrades(
  rows: readonly FrontRow[],
  here: Key,
  chosen: Key,
  width: number,
): DrawnTrades {
  const keys = [...rows].sort(KeyFit.byPitch);
  const dimensions = keys[0]?.costs ?? [];
  const scale = scalePoint<number>(
    keys.map((_, i) => i),
    [SLOT + EDGE, Math.max(SLOT + EDGE, width - SLOT - EDGE)],
  );
  const step = keys.length > 1 ? scale.step() : width;
  const isHere = (key: Key) => Keys.sameKey(key, here);
  const across = dimensions.map((dimension, place) => ({
    dimension,
    costs: keys.map((row) => row.costs[place] ?? dimension),
  }));
  const isAlike = (costs: readonly Cost[]) => new Set(costs.map(({ value }) => value)).size < 2;
  const places = across
    .filter(({ costs }) => !isAlike(costs))
    .map(({ dimension, costs }, axis) => {
      const { xs, groups } = placesOn(
        costs.map(({ value }) => value),
        width,
      );
      const distinct = [...new Set(costs.map(({ value }) => value))].sort((a, b) => b - a);
      const values = distinct.map((value, i): Words => {
        const cost = costs.find((each) => each.value === value) ?? dimension;
        const of = keys.filter((_, k) => costs[k]?.value === value);
        const hasHere = of.some(({ key }) => isHere(key));
        return { x: groups[i] ?? 0, words: valueOf(cost), isHere: hasHere };
      });
      const top = axis * AXIS;
      return { xs, axis: { label: nameOf(dimension), top, values: shown(values, width) } };
    });
  const path = line<{ x: number; y: number }>()
    .x(({ x }) => x)
    .y(({ y }) => y)
    .curve(curveMonotoneY);
  const lines = keys.map((row, i): Line => {
    const x = scale(i) ?? 0;
    const at = places.map(({ xs, axis }) => ({ x: xs[i] ?? 0, y: axis.top + NAMES_AT }));
    return {
      // All are of one mode.
      name: Keys.sayNote(row.key.tonic),
      key: row.key,
      label: `${Keys.sayKey(row.key)}${row.dominated ? `, ${Keys.sayKey(row.dominated.by)} is nowhere worse` : ''}`,
      d: path(at) ?? '',
      at,
      x,
      isHere: isHere(row.key),
      isChosen: Keys.sameKey(row.key, chosen),
      isDominated: row.dominated !== null,
    };
  });
  const depth = ({ isHere: top, isChosen, isDominated }: Line): number =>
    top ? 3 : isChosen ? 2 : isDominated ? 0 : 1;
  return {
    height: places.length * AXIS,
    axes: places.map(({ axis }) => axis),
    alike: across.filter(({ costs }) => isAlike(costs)).map(({ dimension }) => sayAlike(dimension)),
    lines: lines.toSorted((a, b) => depth(a) - depth(b)),
    keys: lines,
    button: Math.min(56, Math.max(SLOT, step)),
  };
}

export const PLACES = { label: LABEL_AT, names: NAMES_AT, values: VALUES_AT } as const;

/** Where a key of the keyboard leads along the front: to the next lower or higher key, to the ends; null: it does not steer. */
export function walked(press: string, rows: readonly FrontRow[], here: Key): Key | null {
  const front = KeyFit.along(rows);
  const inOrder = [...rows].sort(KeyFit.byPitch);
  const place = inOrder.findIndex(({ key }) => Keys.sameKey(key, here));
  const lower = front.filter(({ key }) => inOrder.findIndex((row) => row.key === key) < place);
  const higher = front.filter(({ key }) => inOrder.findIndex((row) => row.key === key) > place);
  switch (press) {
    case 'ArrowLeft':
    case 'ArrowUp':
      return lower.at(-1)?.key ?? here;
    case 'ArrowRight':
    case 'ArrowDown':
      return higher[0]?.key ?? here;
    case 'Home':
      return front[0]?.key ?? here;
    case 'End':
      return front.at(-1)?.key ?? here;
    default:
      return null;
  }
}
