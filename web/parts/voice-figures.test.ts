import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Abc, KeyFit, type Singer } from '#music';
import { figuresOf } from './voice-figures.ts';

const RUTH: Singer = { id: 'r', name: 'Ruth', comfortable: { low: 'A3', high: 'D5' } };
const of = (file: string, tonic: string, tempo = true) => {
  const read = Abc.read(readFileSync(`seed-data/hymns/${file}`));
  const score = read.ok ? read.value[0] : undefined;
  if (!score) throw new Error('the hymn is there');
  const song = tempo ? score : { ...score, tempo: null };
  const found = KeyFit.demands(song, { tempo: null })(RUTH, { tonic, mode: 'major' });
  if (!found) throw new Error('a tune');
  return Object.fromEntries(figuresOf(found).map(({ what, values }) => [what, values]));
};

describe('figures of a voice', () => {
  it('are those of the ranking example for New Britain in A flat', () => {
    // A3 to D5: E♭4–E♭5, 6 and −1 to spare, shift +3.5, 14.6 % outside (the times of the Open Hymnal).
    expect(of('Amazing_Grace-New_Britain.abc', 'Ab')).toMatchObject({
      'time outside': ['15\u00a0%'],
      'half steps to spare above': ['−1'],
      'half steps to spare below': ['6'],
      shift: ['+3.5'],
      'biggest leap': ['fourth up'],
      'longest breath, seconds': ['7.2'],
    });
  });

  it('stand for the song and each section where there are several', () => {
    const lines = of('Blessed_Assurance-Blessed_Assurance-Assurance.abc', 'D');
    for (const values of Object.values(lines)) expect(values).toHaveLength(3);
  });

  it('count beats where no tempo is known', () => {
    const lines = of('Amazing_Grace-New_Britain.abc', 'G', false);
    expect(lines['longest breath']).toEqual(['twelve beats']);
  });
});
