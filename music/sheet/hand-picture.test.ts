import { describe, expect, it } from 'vitest';
import { drawHand } from './hand-picture.ts';

describe('A picture of a hand on the keys', () => {
  it.each([
    { notes: ['C4', 'F4', 'A4'], white: 3, black: 0 },
    { notes: ['D4', 'F#4', 'A4'], white: 2, black: 1 },
    { notes: ['Eb4', 'Gb4', 'Bb4'], white: 0, black: 3 },
    { notes: ['B3', 'E4', 'G#4'], white: 2, black: 1 },
  ])('presses $white white and $black black keys for $notes', ({ notes, white, black }) => {
    const hand = drawHand(notes, [1, 3, 5]);
    expect(hand.white.filter((key) => key.pressed)).toHaveLength(white);
    expect(hand.black.filter((key) => key.pressed)).toHaveLength(black);
    expect(hand.white).toHaveLength(14);
    expect(hand.black).toHaveLength(10);
  });

  it('writes each finger under its key, left to right', () => {
    const { fingers } = drawHand(['Bb3', 'D4', 'F4'], [1, 2, 4]);
    expect(fingers.map((each) => each.finger)).toEqual([1, 2, 4]);
    expect(fingers.map((each) => each.x)).toEqual([66, 93.5, 115.5]);
  });

  it('spells B sharp and C flat on the keys that sound them', () => {
    expect(drawHand(['B#3'], [1], 'C4').white[0]?.pressed).toBe(true);
    expect(drawHand(['Cb4'], [1], 'C3').white[6]?.pressed).toBe(true);
  });

  it('marks middle C to find one’s place, unless it is pressed', () => {
    expect(drawHand(['D4', 'F4', 'A4'], [1, 3, 5]).middleC).toBe(5.5);
    expect(drawHand(['C4', 'E4', 'G4'], [1, 3, 5]).middleC).toBeNull();
  });
});
