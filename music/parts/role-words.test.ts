import { describe, expect, it } from 'vitest';
import { isWork, sayWhose } from './role-words.ts';

describe('Whose sheet it is', () => {
  it.each([
    ['keys', 'first rung', 'Ines', 'keys, first rung, for Ines'],
    ['harmony voice', '', 'Tomas', 'harmony voice, for Tomas'],
    ['keys', 'first rung', 'whoever plays', 'keys, first rung, for whoever plays'],
    ['harmony voice', '', 'a harmony voice', 'harmony voice'],
    ['harmony voice', '', 'harmony voice 2', 'harmony voice 2'],
    ['keys', 'first rung', 'a keys player', 'keys player, first rung'],
    ['drums', 'words with chords', 'a drummer', 'drummer, words with chords'],
    [
      'keys',
      'first rung',
      'a lead voice and keys player',
      'lead voice and keys player, first rung',
    ],
  ] as const)('%s, %s, for %s: “%s”', (role, what, name, said) => {
    expect(sayWhose(role, what, name)).toBe(said);
  });
});

describe('A name', () => {
  it.each([
    ['a harmony voice', ['harmony voice'], true],
    ['lead voice and keys player 1', ['lead voice', 'keys'], true],
    ['a drummer', ['drums'], true],
    ['a helper', [], true],
    ['Ruth', ['lead voice'], false],
    ['a harmony voice', ['harmony voice', 'keys'], false],
  ] as const)('%s with the roles %j is only what they do: %s', (name, roles, only) => {
    expect(isWork(name, [...roles])).toBe(only);
  });
});
