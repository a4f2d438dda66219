import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compare, ofMove, ofPlan, rank, WEIGHTS } from './difficulty.ts';
import { ofShape } from './fingering.ts';
import { pitchOn } from './candidates.ts';
import { plan } from './right-hand.ts';
import type { Shape } from './shape.ts';

function shape(notes: string): Shape {
  const list = notes.split(' ');
  return { notes: list, fingers: ofShape(list, 'right') };
}

const items = (from: string, to: string, beats = 4, tempo: number | null = 60) =>
  ofMove(shape(from), shape(to), beats, tempo).items.map(
    ({ what, words, cost }) => `${what}: ${words}: ${cost}`,
  );

describe('How hard a move is, item by item (the weights are ours)', () => {
  it('names fingers, thumb, black keys and time', () => {
    expect(items('G4 B4 D5', 'F#4 A4 D5', 1, 60)).toEqual([
      'fingers changed: 2 instead of 3: 1',
      'fingers to move: thumb to F♯: 0.5',
      "thumb's way: the thumb travels 1 semitone: 0.25",
      'black keys: thumb on the black key F♯: 1',
      'time: 1 beat at 60 a minute: 1 second: 2.75',
    ]);
  });

  it('names fingers that go against each other', () => {
    expect(items('C4 E4 G4', 'B3 E4 Ab4')).toContain(
      'contrary motion: 5 up while thumb goes down: 1',
    );
  });

  it('names a stretch of the new shape', () => {
    expect(items('C4 E4 G4', 'C4 E4 G4 C5').at(-1)).toBe(
      'stretch: E and G under 2 and 3, G and C under 3 and 5: 1',
    );
  });

  it('is nothing for the same shape, at any speed', () => {
    expect(ofMove(shape('C4 E4 G4'), shape('C4 E4 G4'), 0.5, 200)).toEqual({ total: 0, items: [] });
  });

  it('counts no time where the tempo is unknown', () => {
    expect(items('C4 E4 G4', 'C4 F4 A4', 1, null).join()).not.toContain('time');
  });

  it('is not the same as motion: a shift of the whole hand is further and easier than a change of fingers', () => {
    const far = ofMove(shape('C4 E4 G4'), shape('D4 F4 A4'), 4, 60).total;
    const near = ofMove(shape('C4 E4 G4'), shape('B3 D4 F4 G4'), 4, 60).total;
    expect(far).toBeLessThan(near);
  });

  it('takes a tempo of the score like beats a minute', () => {
    const [from, to] = [shape('C4 E4 G4'), shape('C4 F4 A4')];
    expect(ofMove(from, to, 2, { beat: 30240, perMinute: 100 })).toEqual(ofMove(from, to, 2, 100));
  });
});

const anyShape = fc
  .record({
    low: fc.integer({ min: 55, max: 70 }),
    gaps: fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1, maxLength: 3 }),
  })
  .map(({ low, gaps }) => {
    const keys = gaps.reduce((list, gap) => [...list, (list.at(-1) ?? 0) + gap], [low]);
    const names = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
    return shape(keys.map((key) => pitchOn(names[key % 12] ?? 'C', key)).join(' '));
  });

describe('The measure', () => {
  it('is the sum of its items', () => {
    fc.assert(
      fc.property(
        anyShape,
        anyShape,
        fc.double({ min: 0.25, max: 8, noNaN: true }),
        (a, b, beats) => {
          const { total, items } = ofMove(a, b, beats, 72);
          expect(total).toBeCloseTo(
            items.reduce((sum, item) => sum + item.cost, 0),
            9,
          );
          expect(items.every((item) => item.cost > 0 && item.words.length > 0)).toBe(true);
        },
      ),
      { numRuns: 1000, seed: 21 },
    );
  });

  it('never finds a move harder with more time, or with a slower tempo', () => {
    const beats = fc.double({ min: 0.25, max: 8, noNaN: true });
    const tempo = fc.integer({ min: 40, max: 200 });
    fc.assert(
      fc.property(anyShape, anyShape, beats, beats, tempo, tempo, (a, b, x, y, slow, fast) => {
        const [less, more] = [Math.min(x, y), Math.max(x, y)];
        const cost = (time: number, pace: number) => ofMove(a, b, time, pace).total;
        expect(cost(more, fast)).toBeLessThanOrEqual(cost(less, fast));
        expect(cost(more, Math.min(slow, fast))).toBeLessThanOrEqual(
          cost(more, Math.max(slow, fast)),
        );
      }),
      { numRuns: 1000, seed: 22 },
    );
  });

  it('never finds a move easier with one more finger to change', () => {
    // Five white keys under five fingers; some of the fingers change, then one more: each lifts and joins on its key.
    const keys = ['C4', 'D4', 'E4', 'F4', 'G4'];
    const held = (fingers: readonly number[]): Shape => ({
      notes: fingers.map((finger) => keys[finger - 1] ?? ''),
      fingers: [...fingers],
    });
    fc.assert(
      fc.property(fc.subarray([1, 2, 3, 4, 5]), fc.subarray([1, 2, 3, 4, 5]), (some, more) => {
        const superset = [...new Set([...some, ...more])].sort();
        const all = [1, 2, 3, 4, 5];
        const after = (changed: readonly number[]) => held(all.filter((f) => !changed.includes(f)));
        const lifts = (changed: readonly number[]) =>
          ofMove(held(all), after(changed), 1, 60).items;
        const joins = (changed: readonly number[]) =>
          ofMove(after(changed), held(all), 1, 60).total;
        const cost = (changed: readonly number[]) =>
          lifts(changed).find((item) => item.what === 'fingers changed')?.cost ?? 0;
        expect(cost(superset)).toBeGreaterThanOrEqual(cost(some));
        expect(cost(superset)).toBe(superset.length * WEIGHTS.lifts);
        expect(joins(superset)).toBeGreaterThanOrEqual(joins(some));
      }),
      { numRuns: 300, seed: 23 },
    );
  });
});

describe('The hardest moves of a song', () => {
  const names = ['G', 'D', 'Em', 'C', 'G', 'D'];
  const planned = plan(names);
  if (!planned.ok) throw new Error();
  const moves = planned.moves.map((move, i) => ({
    ...move,
    fromChord: names[i] ?? '',
    toChord: names[i + 1] ?? '',
    bar: i + 1,
    beats: i === 4 ? 1 : 4,
  }));

  it('stand from the hardest down, each once with all its bars and its least time', () => {
    const ranked = rank(moves, 90);
    expect(ranked.map((each) => each.total)).toEqual(
      [...ranked.map((each) => each.total)].sort((a, b) => b - a),
    );
    const again = ranked.find((each) => each.move.fromChord === 'G');
    expect(again?.bars).toEqual([1, 5]);
    expect(again?.sentence).toBe(
      'G to D, bars 1 and 5, 1 beat at 90 a minute: 0.7 seconds. Thumb stays; 3 down a half step, 5 down a step.',
    );
  });

  it('leave out what does not move', () => {
    expect(
      rank(
        moves.map((move) => ({ ...move, to: move.from })),
        90,
      ),
    ).toEqual([]);
  });
});

describe('A whole plan in a key', () => {
  const inKey = (tonic: string, chords: string) => {
    const result = ofPlan(chords.split(' '), [4, 4, 4, 4], 80, { key: { tonic, mode: 'major' } });
    if (!result.ok) throw new Error(JSON.stringify(result.problems));
    return result;
  };

  it('says so where nothing is hard', () => {
    expect(inKey('G', 'G G').phrase).toBe('one shape, no change is hard');
  });

  it('says how many shapes, how wide the widest move, and what the left hand does', () => {
    const result = inKey('G', 'G D Em C');
    expect(result.sentence).toBe(
      'In G major: four shapes, the widest move two keys; the left hand stays in one place.',
    );
    expect(result.phrase).toBe(
      `four shapes, hardest change ${result.hardest?.from} to ${result.hardest?.to}`,
    );
    expect(result.motion).toBe(9);
    expect(result.total).toBeCloseTo(
      result.items.reduce((sum, item) => sum + item.cost, 0),
      9,
    );
  });

  it('is compared with another key by what makes the difference', () => {
    const [g, flat] = [inKey('G', 'G D Em C'), inKey('Ab', 'Ab Eb Fm Db')];
    expect(compare(flat, g)).toBe(
      'G major is easier for the hands than A♭ major (5 against 6): thumb or little finger on a black key, 0 instead of 1.',
    );
    expect(compare(g, g)).toBe('G major and G major are equally easy for the hands.');
  });

  it('fails as the plan fails', () => {
    expect(ofPlan(['Xyz'], [4], 80)).toMatchObject({ ok: false });
  });
});
