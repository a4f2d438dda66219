import { describe, expect, it } from 'vitest';
import { Fingering, Motion, Pitches, RightHand } from '#music';
import type { RightHandOptions } from '#music';
import { makeDistances, makeProgressions } from './tables/least-motion.make.ts';
import { PROGRESSIONS, TRIAD_DISTANCES } from './tables/least-motion.ts';
import { PRIMARY_CHORDS } from './tables/primary-chords.ts';

/** Room enough that the edge of the register decides nothing. */
const WIDE = { low: 'C2', high: 'C7' } as const;

function planned(chords: readonly string[], options: RightHandOptions = {}) {
  const plan = RightHand.plan(chords, options);
  if (!plan.ok) throw new Error(JSON.stringify(plan.problems));
  return plan;
}

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
const up = (root: string, semitones: number) =>
  ROOTS[(Pitches.pitchClassOf(root) + semitones) % 12] ?? '';

describe('Least motion from a root position, closed triads', () => {
  // The totals and voicings were computed by exhaustive search over closed triads; where two are equally short
  // either will do. Names of progressions: Open Music Theory, "Pop/rock harmony".
  it('are what the search finds today', () => {
    expect(makeProgressions()).toEqual(PROGRESSIONS);
    expect(makeDistances()).toEqual(TRIAD_DISTANCES);
  });

  it.each(PROGRESSIONS)('$name: $total semitones', ({ chords, start, ways, total }) => {
    const plan = planned(chords, { start: start.split(' '), register: WIDE });
    expect(plan.total).toBe(total);
    const way = plan.shapes.map((shape) => shape.notes.join(' ')).join(' | ');
    expect(ways).toContain(way);
    const steps = plan.moves.map((move) => move.motion);
    expect(steps.reduce((sum, step) => sum + step, 0)).toBe(total);
  });

  it.each(ROOTS)('costs the same in every key: %s', (root) => {
    const [one, four, five, six] = [root, up(root, 5), up(root, 7), `${up(root, 9)}m`];
    expect(planned([one, five, six, four]).total).toBe(9);
    expect(planned([one, four, five, one]).total).toBe(12);
  });
});

describe('The distance of two triads, each note to one note', () => {
  // Sum of semitones over pitch classes, one to one, least over all pairings: arithmetic on the definition in
  // Tymoczko 2006, Science 313, 72–74 (taxicab size).
  const cells = Object.entries(TRIAD_DISTANCES).flatMap(([kinds, row]) =>
    row.map((distance, n) => ({ kinds, n, distance })),
  );
  it.each(cells)('$kinds, root up $n: $distance', ({ kinds, n, distance }) => {
    const [from, to] = kinds.split(' ').map((kind) => (kind === 'minor' ? 'm' : ''));
    for (const root of ['C', 'E', 'Ab'])
      expect(
        planned([`${root}${from ?? ''}`, `${up(root, n)}${to ?? ''}`], { register: WIDE }).total,
      ).toBe(distance);
  });

  it('and of sevenths: ii7 V7 3, V7 Imaj7 3, Imaj7 IVmaj7 4, Imaj7 vi7 2', () => {
    const total = (from: string, to: string) => planned([from, to], { register: WIDE }).total;
    expect(total('Dm7', 'G7')).toBe(3);
    expect(total('G7', 'Cmaj7')).toBe(3);
    expect(total('Cmaj7', 'Fmaj7')).toBe(4);
    expect(total('Cmaj7', 'Am7')).toBe(2);
  });
});

describe('The loop vi IV I V, closed triads', () => {
  it('is 12 semitones round, in every key (exhaustive search)', () => {
    for (const root of ROOTS) {
      const loop = [`${up(root, 9)}m`, up(root, 5), root, up(root, 7)];
      for (let turn = 0; turn < 4; turn++) {
        const chords = [...loop.slice(turn), ...loop.slice(0, turn)];
        const plan = planned(chords, { loop: true });
        expect(plan.total, chords.join(' ')).toBe(12);
        expect(plan.moves).toHaveLength(4);
        expect(plan.moves[3]?.to).toBe(plan.shapes[0]);
      }
    }
  });

  it('in G: E G C, D G B, D F# A, E G B, with 3 + 3 + 5 + 1', () => {
    const plan = planned(['C', 'G', 'D', 'Em'], { loop: true, start: ['E4', 'G4', 'C5'] });
    expect(plan.shapes.map((shape) => shape.notes.join(' '))).toEqual([
      'E4 G4 C5',
      'D4 G4 B4',
      'D4 F#4 A4',
      'E4 G4 B4',
    ]);
    expect(plan.moves.map((move) => move.motion)).toEqual([3, 3, 5, 1]);
  });
});

describe('The worked example of Tymoczko 2006 (supplement, Fig. S12): Cmaj7 to Emaj7', () => {
  it('is (E E G B C) to (D# E G# B B), 3 semitones, where notes may be doubled', () => {
    const from = ['E4', 'G4', 'B4', 'C5'].map(Pitches.midiOf);
    const to = ['D#4', 'E4', 'G#4', 'B4'].map(Pitches.midiOf);
    const motion = Motion.withDoubling(from, to);
    expect(motion.total).toBe(3);
    expect(motion.pairs).toEqual([
      [0, 0],
      [0, 1],
      [1, 2],
      [2, 3],
      [3, 3],
    ]);
  });

  it('is 4 from four notes to four', () => {
    expect(planned(['Cmaj7', 'Emaj7'], { register: WIDE }).total).toBe(4);
  });
});

describe('Primary chords from the tonic in root position', () => {
  // Rule: University of Alabama Music Therapy, piano proficiency (musictherapy.ua.edu/281): IV keeps the lowest note, V7
  // without its fifth keeps the highest. The notes of the other keys by transposition. Fingers of the left hand
  // from the same page; right-hand 1 4 5 from memory.
  it.each(PRIMARY_CHORDS)('$key', ({ one, four, five7, six, five, names }) => {
    const low = Pitches.pitchClassOf(one.split(' ')[0] ?? '') < 9 ? 4 : 3;
    const start = stacked(one, low);
    const notes = (chords: readonly string[]) =>
      planned(chords, { start, register: WIDE, most: 3 }).shapes.map((shape) =>
        shape.notes.map(Pitches.noteOf).join(' '),
      );
    const { I, IV, V, vi } = names;
    expect(notes([I, IV, I, `${V}7`, I])).toEqual([one, four, one, five7, one]);
    expect(planned([I, IV, I, `${V}7`, I], { start, register: WIDE, most: 3 }).total).toBe(10);
    expect(notes([I, IV, `${V}7`, I])).toEqual([one, four, five7, one]);
    expect(planned([I, IV, `${V}7`, I], { start, register: WIDE, most: 3 }).total).toBe(8);
    expect(notes([I, vi])).toEqual([one, six]);
    expect(notes([I, V])).toEqual([one, five]);

    const fingers = (tones: string, hand: 'left' | 'right') =>
      Fingering.ofShape(stacked(tones, 4), hand).join('');
    expect([one, four, five7].map((tones) => fingers(tones, 'left'))).toEqual([
      '531',
      '521',
      '521',
    ]);
    expect([one, four, five7].map((tones) => fingers(tones, 'right'))).toEqual([
      '135',
      '135',
      '145',
    ]);
  });
});

/** Note names as pitches, each the next above the one before. */
function stacked(tones: string, octave: number): string[] {
  let before = -1;
  return tones.split(' ').map((tone) => {
    let pitch = `${tone}${octave}`;
    while (Pitches.midiOf(pitch) <= before) pitch = `${tone}${++octave}`;
    before = Pitches.midiOf(pitch);
    return pitch;
  });
}
