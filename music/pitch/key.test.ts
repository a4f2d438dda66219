import { describe, expect, it } from 'vitest';
import * as Keys from './key.ts';

describe('A key', () => {
  it.each([
    ['C', 'C major'],
    ['Bb', 'Bb major'],
    ['F# minor', 'F# minor'],
    ['F♯ Minor', 'F# minor'],
    ['Am', 'A minor'],
    ['f#m', 'F# minor'],
    ['e minor', 'E minor'],
    ['CM', 'C major'],
    ['E dorian', 'E dorian'],
    ['D mix', 'D mixolydian'],
    ['G Ionian', 'G major'],
    ['B aeolian', 'B minor'],
    ['E♭ major', 'Eb major'],
  ])('%s is %s', (text, key) => {
    const read = Keys.readKey(text);
    expect(read && Keys.writeKey(read)).toBe(key);
  });

  it.each(['', 'e', 'H', 'C majestic', 'Cb7', '4 sharps', 'C##'])('%j is none', (text) => {
    expect(Keys.readKey(text)).toBeNull();
  });

  // Order of sharps F C G D A E B and of flats reversed: Open Music Theory, "Key signatures".
  it.each([
    ['G major', 1, 'G A B C D E F#'],
    ['C# major', 7, 'C# D# E# F# G# A# B#'],
    ['Cb major', -7, 'Cb Db Eb Fb Gb Ab Bb'],
    ['G# minor', 5, 'G# A# B C# D# E F#'],
    ['E dorian', 2, 'E F# G A B C# D'],
    ['E phrygian', 0, 'E F G A B C D'],
    ['F lydian', 0, 'F G A B C D E'],
    ['B locrian', 0, 'B C D E F G A'],
    ['D mixolydian', 1, 'D E F# G A B C'],
  ])('%s has the signature %i and the notes %s', (text, signature, notes) => {
    const key = Keys.readKey(text);
    if (!key) throw new Error(text);
    expect(Keys.signatureOf(key)).toBe(signature);
    expect(Keys.keyOfSignature(signature, key.mode)).toEqual(key);
    expect(Keys.scaleOf(key).join(' ')).toBe(notes);
    const degrees = Keys.scaleOf(key).map((note) => Keys.degreeOf(key, note));
    expect(degrees).toEqual([1, 2, 3, 4, 5, 6, 7].map((degree) => ({ degree, alter: 0 })));
  });

  it('is said with real signs', () => {
    expect(Keys.sayKey({ tonic: 'F#', mode: 'minor' })).toBe('F♯ minor');
    expect(Keys.sayNote('Bb3')).toBe('B♭3');
    expect(Keys.sayNote('B4')).toBe('B4');
  });

  it('knows how far a note is altered in it', () => {
    expect(Keys.degreeOf({ tonic: 'G#', mode: 'minor' }, 'F##')).toEqual({ degree: 7, alter: 1 });
    expect(Keys.degreeOf({ tonic: 'F', mode: 'major' }, 'B')).toEqual({ degree: 4, alter: 1 });
    expect(Keys.degreeOf({ tonic: 'F', mode: 'major' }, 'Bb')).toEqual({ degree: 4, alter: 0 });
  });

  it('is offered in its twelve usual spellings', () => {
    const tonics = (mode: Keys.Mode) =>
      Keys.keysToOffer(mode)
        .map((key) => key.tonic)
        .join(' ');
    expect(tonics('major')).toBe('C Db D Eb E F F# G Ab A Bb B');
    expect(tonics('minor')).toBe('C C# D Eb E F F# G G# A Bb B');
    for (const mode of Keys.MODES) {
      const signatures = Keys.keysToOffer(mode).map((key) => Math.abs(Keys.signatureOf(key)));
      expect(Math.max(...signatures)).toBe(6);
    }
    expect(Keys.usualSpelling({ tonic: 'G#', mode: 'major' }).tonic).toBe('Ab');
    expect(Keys.usualSpelling({ tonic: 'Cb', mode: 'major' }).tonic).toBe('B');
  });
});
