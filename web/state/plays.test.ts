import { describe, expect, it } from 'vitest';
import { handsOf, withInstrument, withLevel } from './plays.ts';

describe('Levels by hand', () => {
  it.each([
    [['keys'], ['right hand', 'left hand', 'pedal']],
    [
      ['lead voice', 'guitar'],
      ['voice', 'guitar'],
    ],
    [['lead voice', 'harmony voice'], []],
    [['bass'], []],
    [[], []],
  ] as const)('of %j are asked for %j', (roles, hands) => {
    expect(handsOf(roles)).toEqual(hands);
  });

  it('are kept only where they differ from the usual one', () => {
    const levels = withLevel({ bass: 'advanced' }, 'left hand', 'intermediate');
    expect(levels).toEqual({ bass: 'advanced', 'left hand': 'intermediate' });
    expect(withLevel(levels, 'bass', null)).toEqual({ 'left hand': 'intermediate' });
  });
});

describe('Instruments', () => {
  it('keep only what is not usual', () => {
    const five = withInstrument({}, 'bassStrings', 5);
    expect(five).toEqual({ bassStrings: 5 });
    expect(withInstrument(five, 'bassStrings', 4)).toEqual({});
    expect(withInstrument({}, 'capo', 5)).toEqual({});
    expect(withInstrument({}, 'capo', 0)).toEqual({ capo: 0 });
  });
});
