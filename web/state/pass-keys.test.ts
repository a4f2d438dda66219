import { expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { inUnison, passKeys, raisedPass, sayRaised } from './pass-keys.ts';

const song = songOf('"C"CDEF|"G"GGG2|]', ['a b c d e f g']);
const F = { tonic: 'F', mode: 'major' } as const;
const pass = { section: song.sections[0]?.id ?? '', verse: 1 };

it('offers the key as it is, then a half step and a whole step, then the rest', () => {
  const keys = passKeys(song, F, pass);
  expect(keys.map(({ up }) => up)).toEqual([0, 1, 2, 3, 4, 5, -1, -2, -3, -4, -5]);
  expect(keys.slice(0, 3).map(({ words }) => words)).toEqual([
    'in F',
    'F♯, up a half step',
    'G, up a whole step',
  ]);
  expect(keys[6]?.words).toBe('E, down a half step');
});

it('offers the same keys to a pass that is raised already', () => {
  expect(passKeys(song, F, { ...pass, up: 2 })).toEqual(passKeys(song, F, pass));
});

it('offers none to words alone, or before a key is known', () => {
  expect(passKeys({ ...song, untimed: true, chords: [] }, F, pass)).toEqual([]);
  expect(passKeys(song, null, pass)).toEqual([]);
});

it('leaves no trace of what is taken back', () => {
  expect(raisedPass(raisedPass(pass, 2), 0)).toEqual(pass);
  expect(inUnison(inUnison(pass, true), false)).toEqual(pass);
});

it('says which passes are raised, and to which key', () => {
  const keys = passKeys(song, F, pass);
  const said = (...ups: number[]) =>
    sayRaised(ups.map((up, i) => ({ name: `Verse ${i + 1}`, up, keys })));
  expect(said(0, 0, 2)).toBe('Verse 3 up a whole step (G)');
  expect(said(0, 1, 1)).toBe('Verse 2 and Verse 3 up a half step (F♯)');
  expect(said(-1, 0, 1)).toBe('Verse 1 down a half step (E); Verse 3 up a half step (F♯)');
  expect(said(0, 0)).toBe('');
});
