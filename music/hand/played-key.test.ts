import { describe, expect, it } from 'vitest';
import { keysToOffer, sayKey, type Key } from '../pitch/key.ts';
import { pitchClassOf } from '../pitch/pitch.ts';
import { buttonChoices, choices, easeOf, of } from './played-key.ts';

const major = (tonic: string): Key => ({ tonic, mode: 'major' });
const ALL = [...keysToOffer('major'), ...keysToOffer('minor'), ...keysToOffer('dorian')];

describe('a transpose button', () => {
  it.each(ALL.map((key) => [sayKey(key), key] as const))(
    '%s: the key that is played and what is set make the key that sounds',
    (_, key) => {
      const offered = buttonChoices(key);
      expect(offered).toHaveLength(11);
      for (const { plays, amount } of offered) {
        expect((pitchClassOf(plays.tonic) + amount + 24) % 12).toBe(pitchClassOf(key.tonic));
        expect(Math.abs(amount)).toBeLessThanOrEqual(6);
        expect(plays.mode).toBe(key.mode);
      }
    },
  );

  it('offers the easiest keys first: fewest sharps or flats, then the smaller setting', () => {
    const first = buttonChoices(major('Eb')).slice(0, 5);
    expect(first.map(({ plays, amount }) => [plays.tonic, amount])).toEqual([
      ['C', 3],
      ['F', -2],
      ['G', -4],
      ['D', 1],
      ['Bb', 5],
    ]);
  });

  it('itemises what a key asks', () => {
    expect(easeOf(major('C')).words).toBe('white keys only');
    expect(easeOf(major('F'))).toEqual({
      accidentals: 1,
      blackKeys: ['Bb'],
      words: 'one black key: B♭',
    });
    // Six sharps, but E♯ is a white key.
    expect(easeOf(major('F#'))).toMatchObject({
      accidentals: 6,
      words: expect.stringMatching(/^five/),
    });
  });

  it('says how, and what to put back', () => {
    expect(of(major('D'), 'C', { transposeButton: true }, 'keys')).toMatchObject({
      amount: 2,
      words: 'play in C, keyboard set to +2: it sounds in D',
      reminder: 'Set the keyboard back to 0 after this song.',
    });
    expect(of(major('Bb'), 'C', { transposeButton: true }, 'keys')?.words).toBe(
      'play in C, keyboard set to −2: it sounds in B♭',
    );
    const minor: Key = { tonic: 'F', mode: 'minor' };
    expect(of(minor, 'E', { transposeButton: true }, 'keys')?.words).toBe(
      'play in E minor, keyboard set to +1: it sounds in F minor',
    );
  });
});

describe('who reads in another key', () => {
  it.each([
    ['keys without a button', 'keys', {}],
    ['a singer', 'lead voice', { transposeButton: true, capo: 5 }],
    ['the bass', 'bass', { transposeButton: true, capo: 5 }],
    ['a guitar without a capo', 'guitar', { capo: 0 }],
  ] as const)('%s: nobody', (_, role, instruments) => {
    expect(choices(major('Eb'), instruments, role)).toEqual([]);
    expect(of(major('Eb'), 'D', instruments, role)).toBeNull();
  });

  it('is not asked for what sounds already, for no note, or for a fret beyond the limit', () => {
    expect(of(major('D'), 'D', { transposeButton: true }, 'keys')).toBeNull();
    expect(of(major('D'), 'H', { transposeButton: true }, 'keys')).toBeNull();
    expect(of(major('E'), 'A', { capo: 5 }, 'guitar')).toBeNull();
    expect(of(major('E'), 'A', { capo: 7 }, 'guitar')).toMatchObject({ amount: 7 });
  });

  it('may be a guitarist who asks for a shape that is not an open one', () => {
    expect(of(major('G'), 'F', {}, 'guitar')?.words).toBe('capo 2: shapes of F, it sounds in G');
  });
});
