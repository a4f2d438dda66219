import { describe, expect, it } from 'vitest';
import { keysToOffer, sayKey, type Key } from '../pitch/key.ts';
import { easierKey, sayEasier, sayEasierOnPaper } from './easier-key.ts';
import { choices, easeOf, openShapes } from './played-key.ts';

const major = (tonic: string): Key => ({ tonic, mode: 'major' });
const JOEL = { level: 'beginner', role: 'keys', instruments: { transposeButton: true } } as const;
const ELIAS = { level: 'intermediate', role: 'guitar', instruments: { capo: 5 } } as const;
const said = (...given: Parameters<typeof easierKey>): string => {
  const offer = easierKey(...given);
  return offer ? sayEasier(offer) : '';
};

describe('a key that is easier to read', () => {
  // E♭ is three half steps above C: a keyboard set to +3 and a capo at fret 3 both make C sound in it.
  it('is offered to a beginner at the keys and to a guitarist', () => {
    expect(said(major('Eb'), JOEL)).toBe('easier in C: set the keyboard to +3');
    expect(said(major('Eb'), ELIAS)).toBe('easier with capo 3: shapes of C');
    const offer = easierKey(major('Eb'), JOEL);
    expect(offer && sayEasierOnPaper(offer)).toBe(
      'easier in C: set the keyboard to +3, and print the page that way; this one is in E♭',
    );
  });

  it('is not offered where the instrument cannot do it, or nobody needs it', () => {
    expect(said(major('Eb'), { ...JOEL, instruments: {} })).toBe('');
    expect(said(major('Eb'), { ...ELIAS, instruments: { capo: 0 } })).toBe('');
    expect(said(major('F'), JOEL)).toBe('');
    expect(said(major('Eb'), { ...JOEL, level: 'intermediate' })).toBe('');
    expect(said(major('Db'), { ...JOEL, level: 'intermediate' })).not.toBe('');
    expect(said(major('Db'), { ...JOEL, level: 'advanced' })).toBe('');
    for (const role of ['bass', 'drums', 'lead voice'])
      expect(said(major('Eb'), { ...JOEL, role })).toBe('');
  });

  const ALL = [...keysToOffer('major'), ...keysToOffer('minor'), ...keysToOffer('dorian')];
  it.each(ALL.map((key) => [sayKey(key), key] as const))(
    '%s: is one of the choices, and easier',
    (_, key) => {
      const keys = easierKey(key, JOEL);
      if (keys) {
        expect(choices(key, JOEL.instruments, 'keys')).toContainEqual(keys);
        expect(easeOf(keys.plays).accidentals).toBeLessThan(easeOf(key).accidentals);
      }
      const guitar = easierKey(key, ELIAS);
      const isOpen = openShapes(key.mode).includes(key.tonic);
      if (isOpen) expect(guitar).toBeNull();
      if (guitar) expect(openShapes(key.mode)).toContain(guitar.plays.tonic);
    },
  );
});
