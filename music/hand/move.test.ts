import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { midiOf, parsePitch } from '../pitch/pitch.ts';
import { ofShape } from './fingering.ts';
import { followSteps, stepsOf } from './move.ts';
import { say, sayFrom, sayStart } from './move-words.ts';
import { sayPlace } from './note-words.ts';
import { pitchOn } from './candidates.ts';
import type { Hand, Shape } from './shape.ts';

/** `C4 E4 G4 135` */
function shape(text: string): Shape {
  const words = text.split(' ');
  return { notes: words.slice(0, -1), fingers: [...(words.at(-1) ?? '')].map(Number) };
}

describe('A move in words', () => {
  it.each([
    ['C4 E4 G4 135', 'C4 F4 A4 135', 'thumb stays; 3 up a half step, 5 up a step'],
    ['C4 E4 G4 135', 'C4 Eb4 F4 135', 'thumb stays; 3 down a half step, 5 down a step'],
    ['C4 E4 G4 135', 'B3 D4 G4 125', '5 stays; thumb down a half step; 2 instead of 3, on D'],
    ['C4 E4 G4 135', 'C4 E4 G4 135', 'same shape'],
    ['C4 E4 G4 135', 'F4 A4 C5 135', 'the whole hand moves up a fourth to F, same fingers'],
    ['C4 E4 G4 135', 'D4 F#4 A4 135', 'the whole hand moves up a step, same fingers'],
    ['C4 E4 G4 135', 'D4 F4 A4 135', 'thumb and 5 up a step, 3 up a half step'],
    [
      'E4 G4 C5 125',
      'C4 E4 G4 135',
      'on E the thumb becomes 3; on G the 2 becomes 5; thumb down a third to C',
    ],
    [
      'G4 3',
      'C5 G5 15',
      'thumb instead of 3, on the C above middle C; 5 joins on the second G above middle C',
    ],
    [
      'C4 E4 G4 135',
      'C4 E4 G4 Bb4 1235',
      'thumb stays; on E the 3 becomes 2; on G the 5 becomes 3; 5 up a third to B♭',
    ],
    ['F4 A4 C5 135', 'F4 A4 Bb4 C5 1345', 'thumb, 3 and 5 stay; 4 joins on B♭'],
    ['F4 A4 Bb4 C5 1345', 'F4 A4 C5 135', 'thumb, 3 and 5 stay; 4 lifts'],
    ['F4 A4 C5 135', 'F4 1', 'thumb stays; 3 and 5 lift'],
    ['F#4 A#4 C#5 135', 'Gb4 Bb4 Db5 135', 'same shape'],
    [
      'Ab4 C5 Eb5 135',
      'B4 D#5 F#5 135',
      'the whole hand moves up a step and a half to B, same fingers',
    ],
  ])('%s to %s: %s', (from, to, words) => {
    expect(say(shape(from), shape(to))).toBe(words);
  });

  it('names where it comes from, and where the hand begins', () => {
    const [c, f] = [shape('C4 E4 G4 135'), shape('C4 F4 A4 135')];
    expect(sayFrom('F', f, c)).toBe('from F: thumb stays; 3 down a half step, 5 down a step');
    expect(sayStart(c)).toBe('start here, thumb on middle C');
    expect(sayStart(shape('G3 C4 E4 135'))).toBe('start here, thumb on the G below middle C');
  });

  it.each([
    ['C4', 'middle C'],
    ['D4', 'the D above middle C'],
    ['C5', 'the C above middle C'],
    ['E5', 'the second E above middle C'],
    ['G3', 'the G below middle C'],
    ['C3', 'the C below middle C'],
    ['Ab2', 'the second A♭ below middle C'],
    ['C2', 'the second C below middle C'],
    ['C#4', 'the C♯ above middle C'],
    ['Cb4', 'the C♭ below middle C'],
    ['B#3', 'the B♯ that is middle C'],
  ])('%s is %s', (pitch, words) => expect(sayPlace(pitch)).toBe(words));
});

const keysOfShape = fc
  .record({
    low: fc.integer({ min: 53, max: 70 }),
    gaps: fc.array(fc.integer({ min: 1, max: 5 }), { maxLength: 4 }),
    flats: fc.boolean(),
  })
  .filter(({ gaps }) => gaps.reduce((sum, gap) => sum + gap, 0) <= 12);

/** Two shapes of one hand, of one to five keys within an octave, spelled with sharps or flats. */
const two = fc
  .tuple(keysOfShape, keysOfShape, fc.constantFrom<Hand>('right', 'left'))
  .map(([one, other, hand]) => ({ from: spelled(one, hand), to: spelled(other, hand), hand }));

function spelled(
  { low, gaps, flats }: { low: number; gaps: readonly number[]; flats: boolean },
  hand: Hand,
): Shape {
  const keys = gaps.reduce((list, gap) => [...list, (list.at(-1) ?? 0) + gap], [low]);
  const names = flats
    ? ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B']
    : ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
  const notes = keys.map((key) => pitchOn(names[key % 12] ?? 'C', key));
  return { notes, fingers: ofShape(notes, hand) };
}

describe('The steps of a move', () => {
  it('lead from the one shape exactly to the other', () => {
    fc.assert(
      fc.property(two, ({ from, to }) => {
        expect(followSteps(stepsOf(from, to))).toEqual(to);
      }),
      { numRuns: 2000, seed: 3 },
    );
  });

  it('say something of every finger of both shapes, and of no other', () => {
    fc.assert(
      fc.property(two, ({ from, to }) => {
        const named = stepsOf(from, to).flatMap((step) => [
          step.finger,
          ...(step.kind === 'change' ? [step.from] : []),
          ...(step.kind === 'take' && step.instead !== null ? [step.instead] : []),
        ]);
        expect(new Set(named)).toEqual(new Set([...from.fingers, ...to.fingers]));
      }),
      { numRuns: 2000, seed: 4 },
    );
  });

  it('can be followed from the words alone', () => {
    fc.assert(
      fc.property(two, ({ from, to, hand }) => {
        const played = followWords(say(from, to), from, hand);
        const wanted = new Map(to.fingers.map((finger, i) => [finger, midiOf(to.notes[i] ?? '')]));
        expect(played).toEqual(wanted);
      }),
      { numRuns: 2000, seed: 6 },
    );
  });
});

/**
 * A pupil who knows the keyboard and hears nothing but the words: which finger lies on which key
 * then.
 */
function followWords(words: string, from: Shape, hand: Hand): Map<number, number> {
  const before = new Map(from.fingers.map((finger, i) => [finger, midiOf(from.notes[i] ?? '')]));
  if (words === 'same shape') return before;
  const finger = (word: string) => (word === 'thumb' ? 1 : Number(word));
  const list = (text: string) => text.split(/, | and /).map(finger);
  const whole = /^the whole hand moves (.*), same fingers$/.exec(words);
  if (whole) {
    const lowest = before.get(1) ?? Math.min(...before.values());
    const way = going(whole[1] ?? '', lowest) - lowest;
    return new Map([...before].map(([each, key]) => [each, key + way]));
  }
  const after = new Map<number, number>();
  const named: [number, string][] = [];
  for (const clause of words.split('; ')) {
    const stay = /^(.*) stays?$/.exec(clause);
    const change = /^on (\S+) the (\S+) becomes (\S+)$/.exec(clause);
    const take = /^(\S+) (?:instead of \S+,|joins) on (.+)$/.exec(clause);
    if (stay) for (const each of list(stay[1] ?? '')) after.set(each, before.get(each) ?? NaN);
    else if (change) after.set(finger(change[3] ?? ''), before.get(finger(change[2] ?? '')) ?? NaN);
    else if (take) named.push([finger(take[1] ?? ''), take[2] ?? '']);
    else if (/ lifts?$/.test(clause)) continue;
    else
      for (const [, fingers = '', way = ''] of clause.matchAll(
        /(?:^|, )((?:(?:thumb|\d)(?:, | and )?)+) ((?:up|down) [^,]*)/g,
      ))
        for (const each of list(fingers.trim()))
          after.set(each, going(way, before.get(each) ?? NaN));
  }
  // A finger that comes in finds its key by name, next to the fingers that are there.
  for (const [each, name] of named) {
    const near = [...after].sort(([a], [b]) => Math.abs(a - each) - Math.abs(b - each))[0];
    after.set(each, found(name, each, near, hand));
  }
  return after;
}

const SIZES: Readonly<Record<string, readonly number[]>> = {
  'a half step': [1],
  'a step': [2],
  'a step and a half': [3],
  'a third': [3, 4],
  'a fourth': [5],
  'a fifth': [7],
  'a sixth': [8, 9],
  'a seventh': [10, 11],
  'an octave': [12],
  'a ninth': [13, 14],
  'a tenth': [15, 16],
  'an eleventh': [17],
  'a twelfth': [19],
  'a thirteenth': [20, 21],
  'a fourteenth': [22, 23],
  'a double octave': [24],
};

/** As words count, up to twelve; figures beyond. */
const COUNTS = 'no one two three four five six seven eight nine ten eleven twelve 13 14 15 16 17 18 19 20 21 22 23 24'.split(' '); // prettier-ignore

function going(way: string, from: number): number {
  const [, direction, size = '', name] = /^(up|down) (.*?)(?: to (\S+))?$/.exec(way) ?? [];
  const counted = COUNTS.indexOf(/^(\w+) half steps$/.exec(size)?.[1] ?? '');
  const sizes = counted >= 0 ? [counted] : (SIZES[size] ?? []);
  const keys = sizes.map((each) => (direction === 'up' ? from + each : from - each));
  const found = name ? keys.filter((key) => key % 12 === classOf(name)) : keys;
  if (found.length !== 1) throw new Error(`cannot follow "${way}"`);
  return found[0] ?? NaN;
}

function classOf(name: string): number {
  const ascii = name.replaceAll('♯', '#').replaceAll('♭', 'b');
  return (parsePitch(`${ascii}4`)?.midi ?? NaN) % 12;
}

/** `B♭` is next to a finger that is there; `the second G above middle C` is where it says. */
function found(
  name: string,
  finger: number,
  near: [number, number] | undefined,
  hand: Hand,
): number {
  const place = /^the (second )?(\S+) (above|below) middle C$/.exec(name);
  if (name === 'middle C') return 60;
  const [other, key] = place ? [finger, 60] : (near ?? [finger, NaN]);
  const up = place ? place[3] === 'above' : finger > other === (hand === 'right');
  let way = 1;
  while (way < 13 && (up ? key + way : key - way) % 12 !== classOf(place?.[2] ?? name)) way++;
  if (place?.[1]) way += 12;
  return up ? key + way : key - way;
}
