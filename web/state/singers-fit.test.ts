import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Abc, type ArrangedPass, type Key, type Singer } from '#music';
import { SingersFit, type AskedOctaves, type SungHere, type Voices } from './singers-fit.svelte.ts';

const read = Abc.read(
  readFileSync('seed-data/hymns/Blessed_Assurance-Blessed_Assurance-Assurance.abc'),
);
const score = read.ok ? read.value[0] : undefined;
if (!score) throw new Error('the hymn is there');
const D: Key = { tonic: 'D', mode: 'major' };
const TOMAS: Singer = { id: 't', name: 'Tomas', comfortable: { low: 'A2', high: 'D4' } };
const [VERSE = '', REFRAIN = ''] = score.sections.map(({ id }) => id);

function fitOf(form: readonly ArrangedPass[] | null = null, more: Partial<SungHere> = {}) {
  const voices: Voices & { octaves: AskedOctaves } = { singers: [TOMAS], octaves: {} };
  const song: SungHere = {
    score: score ?? null,
    key: D,
    arrangement: { tempo: null, form },
    ...more,
  };
  return { fit: new SingersFit(song, voices), voices };
}

describe('the octaves that are tried', () => {
  it('whoever is not asked takes the one that lies better', () => {
    const { fit } = fitOf();
    expect(fit.octaveOf('t')).toBeNull();
    expect(fit.demandsOf('t')?.octaves).toBe('Tomas sings an octave below.');
  });

  it('one for the song, and back', () => {
    const { fit, voices } = fitOf();
    fit.choose('t', 'as written');
    expect(fit.octaveOf('t')).toBe('as written');
    expect(fit.demandsOf('t')?.row.shareOutside).toBeGreaterThan(0.5);
    fit.choose('t', null);
    expect(voices.octaves).toEqual({});
  });

  it('one section alone: the others stay in theirs', () => {
    const { fit, voices } = fitOf();
    fit.chooseIn('t', VERSE, 'as written');
    expect(voices.octaves).toEqual({ t: { [VERSE]: 'as written', [REFRAIN]: 'octave below' } });
    expect(fit.octaveOf('t')).toBe('own');
    expect(fit.demandsOf('t')?.octaves).toBe('Tomas sings the refrain an octave below.');
  });

  it('nobody of that name is asked nothing', () => {
    expect(fitOf().fit.demandsOf('nobody')).toBeNull();
  });
});

describe('what a change of key does', () => {
  const passes = (up: number): ArrangedPass[] => [
    { section: VERSE, verse: 1 },
    { section: REFRAIN, verse: null },
    { section: VERSE, verse: 2, ...(up === 0 ? {} : { up }) },
    { section: REFRAIN, verse: null, ...(up === 0 ? {} : { up }) },
  ];

  it('is told from the first pass in the new key, and nothing where there is none', () => {
    expect(fitOf(passes(0)).fit.changes).toEqual([]);
    const [change, ...others] = fitOf(passes(1)).fit.changes;
    expect(others).toEqual([]);
    expect(change?.opening).toBe('From verse 2, up a half step, in E♭ major');
    expect(change?.voices).toHaveLength(1);
  });
});

describe('the tempo of a file', () => {
  it('stands in brackets until somebody confirms one', () => {
    const said = (more: Partial<SungHere>) =>
      fitOf(null, more).fit.demandsOf('t')?.sentences.at(-1) ?? '';
    expect(said({ isFromFile: true })).toMatch(/\(.* seconds .*, the tempo of the file\)\.$/);
    const tempo = { beat: 30240, perMinute: 60 };
    expect(said({ isFromFile: true, arrangement: { tempo, form: null } })).toMatch(
      /seconds at dotted quarter = 60\.$/,
    );
  });
});
