import { describe, expect, it } from 'vitest';
import { ofShape } from './fingering.ts';

describe('Fingers of shapes that no published table names', () => {
  // The rule: outer fingers by the relaxed spans, inner ones by what is least to hold (spans of Parncutt et al. 1997).
  it.each([
    ['D4', '3', '3', 'one note: the middle finger'],
    ['C4 D4', '12', '21', 'a second'],
    ['C4 E4', '13', '31', 'a third'],
    ['C4 F4', '14', '41', 'a fourth'],
    ['C4 G4', '15', '51', 'a fifth: a power chord'],
    ['C4 C5', '15', '51', 'an octave'],
    ['C4 D4 E4', '123', '321', 'three neighbours'],
    ['C4 D4 E4 F4 G4', '12345', '54321', 'five fingers on five keys'],
    ['G4 C5 D5', '145', '521', 'suspended fourth'],
    ['C4 D4 G4', '125', '541', 'suspended second'],
    ['B3 F4 G4', '145', '521', 'dominant seventh without its fifth'],
    ['C4 E4 G4 Bb4', '1235', '5321', 'dominant seventh, root position'],
    ['E4 G4 Bb4 C5', '1245', '5321', 'first inversion'],
    ['G4 Bb4 C5 E5', '1235', '5321', 'second inversion'],
    ['Bb3 C4 E4 G4', '1245', '5421', 'third inversion'],
  ])('%s: right %s, left %s (%s)', (notes, right, left) => {
    expect(ofShape(notes.split(' '), 'right').join('')).toBe(right);
    expect(ofShape(notes.split(' '), 'left').join('')).toBe(left);
  });

  it('are given low to high, whatever the order of the notes', () => {
    expect(ofShape(['C5', 'E4', 'G4'], 'right')).toEqual([1, 2, 5]);
  });

  it('are refused to six notes, to none and to one key twice', () => {
    expect(() => ofShape(['C4', 'D4', 'E4', 'F4', 'G4', 'A4'], 'right')).toThrow('one to five');
    expect(() => ofShape([], 'right')).toThrow('one to five');
    expect(() => ofShape(['C#4', 'Db4'], 'right')).toThrow('one key twice');
  });
});
