import { describe, expect, it } from 'vitest';
import { HeldNote } from './held-note.ts';

/** Frames every 20 ms. @returns the moment after them */
function sing(
  note: HeldNote,
  from: number,
  seconds: number,
  pitch: (t: number) => number | null,
): number {
  for (let t = 0; t < seconds - 1e-9; t += 0.02) note.push({ seconds: from + t, midi: pitch(t) });
  return from + seconds;
}

describe('A held note', () => {
  it('lies in the middle of its vibrato, whenever one looks', () => {
    const note = new HeldNote();
    const swing = (t: number) => 60.1 + Math.sin(2 * Math.PI * 5.5 * t);
    let at = sing(note, 0, 0.7, swing);
    for (let i = 0; i < 25; i += 1) {
      at = sing(note, at, 0.02, () => swing(0.7 + i * 0.02));
      expect(Math.abs((note.midi ?? 0) - 60.1)).toBeLessThan(0.1);
    }
  });

  it('is nothing before it is clear, and nothing after a silence', () => {
    const note = new HeldNote();
    let at = sing(note, 0, 0.08, () => 60);
    expect(note.midi).toBeNull();
    at = sing(note, at, 0.1, () => 60);
    expect(note.midi).toBeCloseTo(60);
    sing(note, at, 0.16, () => null);
    expect(note.midi).toBeNull();
  });

  it.each([12, -12, 19, 24])('does not follow a slip of %i half steps that passes', (by) => {
    const note = new HeldNote();
    let at = sing(note, 0, 0.5, () => 60);
    at = sing(note, at, 0.24, () => 60 + by);
    expect(note.midi).toBeCloseTo(60);
    sing(note, at, 0.3, () => 60);
    expect(note.midi).toBeCloseTo(60);
  });

  it('follows an octave that lasts, and a step at once', () => {
    const note = new HeldNote();
    let at = sing(note, 0, 0.5, () => 60);
    at = sing(note, at, 0.5, () => 72);
    expect(note.midi).toBeCloseTo(72);
    sing(note, at, 0.3, () => 70);
    expect(note.midi).toBeCloseTo(70);
  });

  it('mends an octave at the beginning once the true note has lasted', () => {
    const note = new HeldNote();
    const at = sing(note, 0, 0.2, () => 72);
    sing(note, at, 0.5, () => 60);
    expect(note.midi).toBeCloseTo(60);
  });
});
