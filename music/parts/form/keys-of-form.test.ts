import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { songOf } from '#test/support/small-abc.ts';
import { sayKey, type Key } from '../../pitch/key.ts';
import type { ArrangedPass } from '../arrangement.ts';
import { keyAtEnd, keyAtStart, raisedBy, raisedKey, sayUp } from './keys-of-form.ts';

const major = (tonic: string): Key => ({ tonic, mode: 'major' });
const minor = (tonic: string): Key => ({ tonic, mode: 'minor' });

describe('A key some half steps higher', () => {
  it('has its usual spelling', () => {
    // By the piano: white and black keys counted upwards; six sharps rather than seven flats (common practice).
    expect(
      (
        [
          [major('F'), 1],
          [major('F#'), 1],
          [major('F#'), 2],
          [major('D'), 1],
          [major('G'), 2],
          [major('C'), -1],
          [major('C'), -2],
          [minor('E'), 2],
          [minor('D'), 1],
        ] as const
      ).map(([key, up]) => sayKey(raisedKey(key, up))),
    ).toEqual([
      'F♯ major',
      'G major',
      'A♭ major',
      'E♭ major',
      'A major',
      'B major',
      'B♭ major',
      'F♯ minor',
      'E♭ minor',
    ]);
  });

  it('lies as many half steps away as asked for, whatever its spelling', () => {
    for (const tonic of ['C', 'Db', 'E', 'F#', 'B', 'Bb']) {
      for (const up of [-5, -4, -3, -2, -1, 1, 2, 3, 4, 5])
        expect(raisedBy(major(tonic), up).semitones).toBe(up);
    }
  });

  it('is said as a way up or down', () => {
    expect([1, 2, -1, -2, 3, 5, 0].map(sayUp)).toEqual([
      'up a half step',
      'up a whole step',
      'down a half step',
      'down a whole step',
      'up a minor third',
      'up a fourth',
      '',
    ]);
  });
});

describe('The keys that a song begins and ends in', () => {
  const song = hymn('Amazing_Grace-New_Britain.abc');
  const form = (ups: readonly number[]): ArrangedPass[] =>
    song.form.map((pass, i) => ({ ...pass, ...(ups[i] ? { up: ups[i] } : {}) }));

  it('are that of the arrangement where nothing is raised', () => {
    expect(sayKey(keyAtStart({ key: major('F') }, song))).toBe('F major');
    expect(sayKey(keyAtEnd({ key: major('F') }, song))).toBe('F major');
  });

  it('are those of its first and last pass', () => {
    const ups = song.form.map((_, i) => (i === song.form.length - 1 ? 2 : 0));
    const arrangement = { key: major('F'), form: form(ups) };
    expect(sayKey(keyAtStart(arrangement, song))).toBe('F major');
    expect(sayKey(keyAtEnd(arrangement, song))).toBe('G major');
    expect(sayKey(keyAtStart({ key: major('A'), form: form([-1]) }, song))).toBe('A♭ major');
  });

  it('move with a change of key that the song has itself', () => {
    const changes = songOf('C4|G4|[K:G]G4|D4|]', [], 'M:4/4\nL:1/4');
    const [section] = changes.sections;
    if (!section) throw new Error('a section');
    const pass = { section: section.id, verse: null };
    expect(sayKey(keyAtEnd({ key: major('C'), form: [pass] }, changes))).toBe('G major');
    const raised = { key: major('C'), form: [{ ...pass, up: 2 }] };
    expect(sayKey(keyAtStart(raised, changes))).toBe('D major');
    expect(sayKey(keyAtEnd(raised, changes))).toBe('A major');
  });
});
