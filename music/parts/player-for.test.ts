import { describe, expect, it } from 'vitest';
import { ANYBODY, playerFor, type PlayingPerson } from './player-for.ts';

const joel: PlayingPerson = { id: 'joel', name: 'Joel', level: 'beginner', reach: 14 };
const ines: PlayingPerson = { id: 'ines', name: 'Ines', level: 'advanced', reach: 9 };

describe('The one for whose hands a song is laid out', () => {
  it.each([
    ['the one who is named', 'ines', ines],
    ['whoever plays where nobody is named, though some could', null, ANYBODY],
    ['whoever plays where the one who was named is gone', 'ruth', ANYBODY],
  ])('is %s', (_, player, expected) => {
    expect(playerFor([joel, ines], { player })).toEqual(expected);
  });

  it('is a beginner with the usual octave where it can be anyone', () => {
    expect(playerFor([], { player: null })).toMatchObject({
      name: 'whoever plays',
      level: 'beginner',
      reach: 12,
    });
  });

  it('brings along nothing else of a member', () => {
    const member = { ...joel, comfortable: { low: 'A2', high: 'E4' } };
    expect(playerFor([member], { player: 'joel' })).toEqual(joel);
  });
});
