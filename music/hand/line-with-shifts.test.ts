import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { midiOf } from '../pitch/pitch.ts';
import { pointsOf } from './line-fingering.ts';
import { ofShiftingLine, SHIFT_POINTS, type ShiftingNote } from './line-with-shifts.ts';
import type { Hand } from './shape.ts';
import { spanOf } from './spans.ts';

const FINGERS = [1, 2, 3, 4, 5] as const;

const line = (text: string): ShiftingNote[] =>
  text.split(' ').map((pitch) => ({ pitch, mayShift: true, usual: null }));

/** Every row of so many of these. */
const rowsOf = <Each>(each: readonly Each[], count: number): Each[][] =>
  count === 0 ? [[]] : rowsOf(each, count - 1).flatMap((row) => each.map((last) => [...row, last]));

/** Points where the hand is put anew at each of the places of a row of yes and no; null: no hand goes so. */
function cost(
  notes: readonly ShiftingNote[],
  fingers: readonly number[],
  isAnew: readonly boolean[],
  hand: Hand,
): number | null {
  let total = 0;
  let stay: number[] = [];
  const close = () => {
    // A note that is struck again on one finger costs nothing and is no note of the line.
    const own = stay.filter((i, at) => at === 0 || notes[i]?.pitch !== notes[i - 1]?.pitch);
    total += pointsOf(own.map((i) => notes[i]?.pitch ?? ''), own.map((i) => fingers[i] ?? 0), hand).total; // prettier-ignore
    stay = [];
  };
  for (const [i, { pitch, mayShift, usual }] of notes.entries()) {
    const finger = fingers[i] ?? 0;
    if (usual !== null && usual.finger !== finger) total += usual.points;
    const before = notes[i - 1];
    if (before) {
      const was = fingers[i - 1] ?? 0;
      const up = (midiOf(pitch) - midiOf(before.pitch)) * (hand === 'right' ? 1 : -1);
      if (isAnew[i]) {
        if (was === finger && Math.abs(up) < 5) return null;
        const crosses = up > 0 ? finger < was : finger > was;
        const isFree = mayShift && (up === 0 || (Math.abs(up) > 4 && !crosses));
        total += isFree ? SHIFT_POINTS.shift : SHIFT_POINTS.forced;
        close();
      } else if (up === 0 ? was !== finger : was === finger) return null;
      else if (up !== 0) {
        const span = spanOf(was, finger);
        const way = finger > was ? up : -up;
        if (way < span.minPractical || way > span.maxPractical) return null;
      }
    }
    stay.push(i);
  }
  close();
  return total;
}

/** Fewest points over every row of fingers and of shifts; of equals nearest the thumb where they first differ. */
function brute(notes: readonly ShiftingNote[], hand: Hand): number[] {
  let best: { readonly total: number; readonly fingers: number[] } | null = null;
  for (const fingers of rowsOf(FINGERS, notes.length))
    for (const isAnew of rowsOf([false, true], Math.max(0, notes.length - 1))) {
      const total = cost(notes, fingers, [false, ...isAnew], hand);
      // Rows come in the order of the tie-break.
      if (total !== null && (best === null || total < best.total)) best = { total, fingers };
    }
  return best?.fingers ?? [];
}

describe('a line in which the hand shifts', () => {
  it.each([
    ['steps are fingers beside each other', 'B1 C2 D2 E2 D2 C2 B1'],
    ['a fifth and more may be a shift', 'D2 C2 B1 F2 C3 F3'],
  ])('%s: no finger twice in a row on other keys within a third', (_, text) => {
    const notes = line(text);
    const fingers = ofShiftingLine(notes, 'left');
    notes.forEach(({ pitch }, i) => {
      const before = notes[i - 1];
      if (before && Math.abs(midiOf(pitch) - midiOf(before.pitch)) < 5)
        expect(fingers[i]).not.toBe(fingers[i - 1]);
    });
  });

  it('four steps down are as easy as a teacher’s 2 3 4 5 (a teacher’s hand fingering, common practice)', () => {
    const notes = ['E2', 'D2', 'C2', 'Bb1'];
    const fingers = ofShiftingLine(line(notes.join(' ')), 'left');
    expect(new Set(fingers).size).toBe(4);
    const points = (each: readonly number[]) => pointsOf(notes, each, 'left').total;
    expect(points(fingers)).toBeLessThanOrEqual(points([2, 3, 4, 5]));
  });

  it('is empty without notes', () => {
    expect(ofShiftingLine([], 'left')).toEqual([]);
  });

  it('is the easiest of all ways, of equals nearest the thumb (every way tried)', () => {
    const note = fc.record({
      pitch: fc.constantFrom('E1', 'Bb1', 'C2', 'D2', 'Eb2', 'F2', 'A2', 'C3', 'F3'),
      mayShift: fc.boolean(),
      usual: fc.constantFrom(null, null, { finger: 5, points: 2 }, { finger: 2, points: 12 }),
    });
    fc.assert(
      fc.property(
        fc.array(note, { minLength: 1, maxLength: 4 }),
        fc.constantFrom<Hand>('left', 'right'),
        (notes, hand) => {
          expect(ofShiftingLine(notes, hand)).toEqual(brute(notes, hand));
        },
      ),
      { numRuns: 120, seed: 21 },
    );
  });
});
