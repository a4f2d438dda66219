import { describe, expect, it } from 'vitest';
import { read } from '../pitch/chord-symbol.ts';
import { tonesInHand } from './chord-in-hand.ts';

function tones(symbol: string, most?: number): string {
  const chord = read(symbol);
  if (!chord.ok) throw new Error(symbol);
  return tonesInHand(chord.value, most).join(' ');
}

describe('What a hand takes of a chord (common practice)', () => {
  it.each([
    ['C', 'C E G', 'a triad whole'],
    ['F#m7b5', 'F# A C E', 'four tones whole'],
    ['C/E', 'C E G', 'a slash bass that is a tone stays one'],
    ['C/D', 'C E G', 'a slash bass that is none is left to the left hand'],
    ['Am7/D', 'A C E G', 'the same with a seventh'],
    ['Gsus4', 'G C D', 'a suspended fourth'],
    ['C5', 'C G', 'two tones of a power chord'],
    ['Cadd9', 'C E G D', 'an added ninth'],
    ['C9', 'C E Bb D', 'of five tones the fifth goes first'],
    ['Am9', 'A C G B', 'in minor too'],
    ['C11', 'C Bb D F', 'an eleventh takes the place of the major third'],
    ['Am11', 'C G B D', 'a minor third stays; the root, which the left hand has, goes'],
    ['C13', 'E Bb D A', 'of a thirteenth the fifth, the eleventh and the root go'],
    ['C13/E', 'C Bb D A', 'or what the slash bass has'],
    ['C7b5b9', 'E Gb Bb Db', 'an altered fifth is what the chord is about: the root goes'],
    ['N.C.', '', 'no chord, no tones'],
  ])('%s: %s (%s)', (symbol, expected) => {
    expect(tones(symbol)).toBe(expected);
  });

  it('takes three tones of a seventh where asked, without its fifth', () => {
    expect(tones('G7', 3)).toBe('G B F');
    expect(tones('C', 3)).toBe('C E G');
    expect(tones('Dm7b5', 3)).toBe('F Ab C');
    expect(tones('C9', 3)).toBe('E Bb D');
  });
});
