/**
 * A brute force for the fingers of a part, with every rule written down once more: the spans and the twelve rules of Parncutt
 * et al. 1997 as pydactyl transcribes them, and the weights for chords as `Fingering.pointsOfPart` states them. Shares no code
 * with the optimiser.
 */

type Hand = 'right' | 'left';
type Usual = (notes: readonly string[], hand: Hand) => readonly number[];
interface Note {
  readonly key: number;
  readonly finger: number;
}

/** Least and most practical, comfortable, relaxed, right hand ascending. */
const SPANS: Readonly<Record<string, readonly [number, number, number, number, number, number]>> = {
  '12': [-5, -3, 1, 5, 8, 10],
  '13': [-4, -2, 3, 7, 10, 12],
  '14': [-3, -1, 5, 9, 12, 14],
  '15': [-1, 1, 7, 10, 13, 15],
  '23': [1, 1, 1, 2, 3, 5],
  '24': [1, 1, 3, 4, 5, 7],
  '25': [2, 2, 5, 6, 8, 10],
  '34': [1, 1, 1, 2, 2, 4],
  '35': [1, 1, 3, 4, 5, 7],
  '45': [1, 1, 1, 2, 3, 5],
};

const LETTERS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
function keyOf(name: string): number {
  const [, letter = 'C', sign = '', octave = '4'] = /^([A-G])([#b]?)(\d)$/.exec(name) ?? [];
  const shift = sign === '#' ? 1 : sign === 'b' ? -1 : 0;
  return (Number(octave) + 1) * 12 + (LETTERS[letter] ?? 0) + shift;
}

const isBlack = ({ key }: Note) => '010100101010'.charAt(key % 12) === '1';
const over = (value: number) => (value > 0 ? value : 0);
const spans = (a: Note, b: Note) =>
  a.finger === b.finger
    ? ([0, 0, 0, 0, 0, 0] as const)
    : (SPANS[[a.finger, b.finger].sort().join('')] ?? ([0, 0, 0, 0, 0, 0] as const));
const apart = (a: Note, b: Note) => (a.finger <= b.finger ? b.key - a.key : a.key - b.key);

function isPractical(a: Note, b: Note): boolean {
  const [least, , , , , most] = spans(a, b);
  return apart(a, b) >= least && apart(a, b) <= most;
}

function stepCost(a: Note, b: Note): number {
  if (!isPractical(a, b)) return 30;
  const [, comfortLow, relaxedLow, relaxedHigh, comfortHigh] = spans(a, b);
  const keys = apart(a, b);
  const each = a.finger === 1 || b.finger === 1 ? 1 : 2;
  let cost = 2 * (over(keys - comfortHigh) + over(comfortLow - keys));
  cost += each * (over(relaxedLow - keys) + over(keys - relaxedHigh));
  if (a.finger === 3 && b.finger === 4) cost += 1;
  for (const [three, four] of [
    [a, b],
    [b, a],
  ] as const)
    // prettier-ignore
    if (three.finger === 3 && four.finger === 4 && !isBlack(three) && isBlack(four)) cost += 1;
  for (const [one, other] of [
    [a, b],
    [b, a],
  ] as const)
    // prettier-ignore
    if ((one.finger === 1 || one.finger === 5) && isBlack(one) && !isBlack(other)) cost += 2;
  const [low, high] = a.key < b.key ? [a, b] : [b, a];
  if (low.key < high.key && high.finger === 1 && low.finger !== 1) {
    if (isBlack(low) === isBlack(high)) cost += 1;
    else if (isBlack(high)) cost += 3;
  }
  return cost;
}

function threeCost(a: Note, b: Note, c: Note): number {
  if (!isPractical(a, b) || !isPractical(b, c)) return 0;
  const [, low, , , high] = spans(a, c);
  const size = over(apart(a, c) - high) + over(low - apart(a, c));
  const isBetween = (a.key < b.key && b.key < c.key) || (c.key < b.key && b.key < a.key);
  const isFull = b.finger === 1 && isBetween && !isPractical(a, c);
  const together = [a, b, c].map(({ finger }) => finger).sort().join('') === '345'; // prettier-ignore
  return size + (size > 0 ? (isFull ? 2 : 1) : 0) + (together ? 1 : 0);
}

function chordCost(from: readonly Note[], to: readonly Note[]): number {
  let changed = 0;
  let going = 0;
  let isAnew = false;
  for (const a of from)
    for (const b of to) {
      if (a.key === b.key) changed += a.finger === b.finger ? 0 : 1;
      else if (a.finger === b.finger) going += 1;
      else if (!isPractical(a, b)) isAnew = true;
      else if (Math.sign(a.finger - b.finger) !== Math.sign(a.key - b.key)) going += 2;
    }
  return 3 * changed + (isAnew || going > 4 ? 4 : going);
}

const TRIADS = ['43', '34', '33', '35', '45', '36', '54', '53', '63', '44'];
const DOUBLED = ['435', '354', '543', '345', '453', '534'];

function ownCost(notes: readonly Note[], names: readonly string[], hand: Hand, usual: Usual) {
  const [only] = notes;
  if (only && notes.length === 1)
    return (only.finger > 3 ? 1 : 0) + (only.finger === 1 && isBlack(only) ? 1 : 0);
  let cost = 0;
  for (let i = 1; i < notes.length; i += 1) {
    const [a, b] = [notes[i - 1] as Note, notes[i] as Note];
    const [, comfortLow, relaxedLow, relaxedHigh, comfortHigh] = spans(a, b);
    const each = a.finger === 1 || b.finger === 1 ? 1 : 2;
    cost += 2 * (over(apart(a, b) - comfortHigh) + over(comfortLow - apart(a, b)));
    cost += each * (over(apart(a, b) - relaxedHigh) + over(relaxedLow - apart(a, b)));
  }
  const keys = names.map(keyOf).sort((a, b) => a - b);
  const gaps = keys.slice(1).map((key, i) => key - (keys[i] ?? 0)).join(''); // prettier-ignore
  const taught = hand === 'right' ? usual(names, hand) : [...usual(names, hand)].reverse();
  const isTaught = taught.join() === notes.map(({ finger }) => finger).join();
  const isPublished = TRIADS.includes(gaps) || DOUBLED.includes(gaps);
  return cost + (isTaught ? 0 : isPublished ? 12 : 4);
}

/** From the thumb's side: the left hand is the right hand in a mirror about D4. */
const thumbFirst = (fingers: readonly number[], hand: Hand) =>
  hand === 'right' ? [...fingers] : [...fingers].reverse();

/** What a fingering costs, strike by strike, low to high. */
export function costOf(
  part: readonly (readonly string[])[],
  fingers: readonly (readonly number[])[],
  hand: Hand,
  usual: Usual,
): number {
  const all = part.map((names, i) => {
    const keys = names.map(keyOf).map((key) => (hand === 'right' ? key : 124 - key));
    const own = thumbFirst(fingers[i] ?? [], hand);
    return keys.sort((a, b) => a - b).map((key, at): Note => ({ key, finger: own[at] ?? 0 }));
  });
  return all.reduce((sum, notes, i) => {
    const [before, second] = [all[i - 1], all[i - 2]];
    let cost = ownCost(notes, part[i] ?? [], hand, usual);
    const [a, b, c] = [second?.[0], before?.[0], notes[0]];
    const isLine = before?.length === 1 && notes.length === 1;
    if (before) cost += isLine && b && c ? stepCost(b, c) : chordCost(before, notes);
    if (isLine && second?.length === 1 && a && b && c) cost += threeCost(a, b, c);
    return sum + cost;
  }, 0);
}

function choices(count: number): number[][] {
  const all: number[][] = [];
  for (let bits = 0; bits < 32; bits += 1) {
    const fingers = [1, 2, 3, 4, 5].filter((finger) => bits & (1 << finger >> 1)); // prettier-ignore
    if (fingers.length === count) all.push(fingers);
  }
  return all;
}

/** Every way to finger a part, the easiest first; of equals the nearest to the thumb where they first differ. */
export function bruteFingers(part: readonly (readonly string[])[], hand: Hand, usual: Usual) {
  let ways: number[][][] = [[]];
  for (const names of part)
    ways = ways.flatMap((way) =>
      choices(names.length).map((own) => [...way, thumbFirst(own, hand)]),
    );
  const word = (fingers: readonly (readonly number[])[]) =>
    fingers.map((own) => thumbFirst(own, hand).join('')).join(' ');
  return ways
    .map((fingers) => ({ fingers, total: costOf(part, fingers, hand, usual), word: word(fingers) }))
    .sort((a, b) => a.total - b.total || (a.word < b.word ? -1 : 1));
}
