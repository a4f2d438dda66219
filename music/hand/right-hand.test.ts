import { describe, expect, it } from 'vitest';
import { read } from '../pitch/chord-symbol.ts';
import { plan, type RightHandOptions } from './right-hand.ts';

function planned(chords: readonly string[], options: RightHandOptions = {}) {
  const result = plan(chords, options);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result;
}

const shapes = (chords: string, options: RightHandOptions = {}) =>
  planned(chords.split(' '), options).shapes.map((shape) => shape.notes.join(' '));

function problems(chords: readonly string[], options: RightHandOptions = {}) {
  const result = plan(chords, options);
  return result.ok ? [] : result.problems.map(({ code, message }) => `${code}: ${message}`);
}

describe('A right-hand plan', () => {
  it('has a shape for every chord, fingers low to high, and a move between neighbours', () => {
    const { shapes, moves, total, warnings } = planned(['C', 'F', 'G7'], {
      start: ['C4', 'E4', 'G4'],
    });
    expect(shapes).toEqual([
      { notes: ['C4', 'E4', 'G4'], fingers: [1, 3, 5] },
      { notes: ['C4', 'F4', 'A4'], fingers: [1, 3, 5] },
      { notes: ['B3', 'D4', 'F4', 'G4'], fingers: [1, 2, 4, 5] },
    ]);
    expect(moves.map(({ motion, words }) => `${motion} ${words}`)).toEqual([
      '3 thumb stays; 3 up a half step, 5 up a step',
      '5 on F the 3 becomes 4; thumb down a half step, 5 down a step; 2 joins on D',
    ]);
    expect(total).toBe(8);
    expect(warnings).toEqual([]);
  });

  it('spells as the chord spells, over the octave line too', () => {
    expect(shapes('Abm Cb', { start: ['Ab4', 'Cb5', 'Eb5'] })).toEqual([
      'Ab4 Cb5 Eb5',
      'Gb4 Cb5 Eb5',
    ]);
    expect(shapes('C#', { start: ['G#3', 'C#4', 'E#4'] })).toEqual(['G#3 C#4 E#4']);
  });

  it('takes chords that were read before like their symbols', () => {
    const read1 = read('Em7/B');
    if (!read1.ok) throw new Error();
    const one = plan(['C', read1.value]);
    expect(one).toEqual(plan(['C', 'Em7/B']));
  });

  it('of no chords is empty, of one chord has no moves, in a loop one that stays', () => {
    expect(plan([])).toEqual({ ok: true, shapes: [], moves: [], total: 0, warnings: [] });
    expect(planned(['C']).moves).toEqual([]);
    expect(planned(['C'], { loop: true }).moves.map((move) => move.words)).toEqual(['same shape']);
  });

  it('lies near the middle of its register where motion leaves the choice', () => {
    expect(shapes('C')).toEqual(['E4 G4 C5']);
    expect(shapes('C', { register: { low: 'C3', high: 'C5' } })).toEqual(['G3 C4 E4']);
    expect(shapes('C', { register: { low: 'C4', high: 'G4' } })).toEqual(['C4 E4 G4']);
  });

  it('answers the same every time it is asked', () => {
    const chords = 'G D Em7 C9 Am D7 G'.split(' ');
    expect(plan(chords, { loop: true })).toEqual(plan(chords, { loop: true }));
  });

  it('spreads a shape only within reach', () => {
    const wide = planned(['C', 'G'], { reach: 16, start: ['C4', 'G4', 'E5'] });
    expect(wide.shapes[1]?.notes).toEqual(['B3', 'G4', 'D5']);
    expect(problems(['C'], { start: ['C4', 'G4', 'E5'] })).toEqual([
      'start-does-not-fit: The hand cannot start on C4 G4 E5: that is no shape of the first chord within register and reach.',
    ]);
  });
});

describe('With the tune as its goal', () => {
  it('has the tune on top where the chord has it, else says so', () => {
    const result = planned(['G', 'C', 'D', 'G'], {
      goal: 'tune',
      tune: ['B4', 'C5', 'E5', 'G'],
    });
    expect(result.shapes.map((shape) => shape.notes.at(-1))).toEqual(['B4', 'C5', 'A4', 'G4']);
    expect(result.warnings.map((warning) => warning.message)).toEqual([
      "Chord 3: the tune's E5 cannot lie on top, no shape of D F♯ A has it there.",
    ]);
  });

  it('takes the tune an octave off where its own octave is out of the register', () => {
    const result = planned(['G'], { goal: 'tune', tune: ['B2'] });
    expect(result.shapes[0]?.notes.at(-1)).toBe('B4');
  });

  it('may move more than the nearest way', () => {
    const tune = ['G5', 'C5', 'G5', 'C5'];
    const chords = ['C', 'F', 'C', 'F'];
    expect(planned(chords, { goal: 'tune', tune }).total).toBeGreaterThan(planned(chords).total);
  });
});

describe('What cannot be planned is said by chord', () => {
  it('a symbol that cannot be read, and every one of them', () => {
    const found = problems(['C', 'H7', 'Xyz', 'N.C.']);
    expect(found).toHaveLength(3);
    expect(found[0]).toMatch(/^chord-german-h: Chord 2, H7: /);
    expect(found[1]).toMatch(/: Chord 3, Xyz: /);
    expect(found[2]).toBe('chord-without-notes: Chord 4, N.C.: there is nothing to hold in it.');
  });

  it('a chord that the reach or the register does not hold', () => {
    expect(problems(['C', 'Bb9'], { reach: 5 })[1]).toBe(
      'no-shape: Chord 2, Bb9: B♭ D A♭ C (B♭9) cannot be held between G3 and G5 within 5 semitones.',
    );
    expect(problems(['C'], { register: { low: 'G4', high: 'A4' } })[0]).toBe(
      'no-shape: Chord 1, C: C E G (C) cannot be held between G4 and A4 within 12 semitones.',
    );
    expect(problems(['C'], { register: { low: 'G', high: 'A4' } })[0]).toMatch('register-not-read');
    expect(problems(['C'], { reach: -1 })[0]).toMatch('reach-not-read');
  });

  it('more chords than can be planned exactly', () => {
    const many = Array.from({ length: 40_000 }, () => 'C');
    expect(problems(many)[0]).toMatch('too-many-chords');
    expect(planned(many.slice(0, 5000)).total).toBe(0);
  });
});
