import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { QUARTER, type Score } from '../score/score.ts';
import { table } from './key-fit.ts';
import type { Singer } from './range.ts';

const C = { tonic: 'C', mode: 'major' } as const;

const ruth = (low: string, high: string, more: Partial<Singer> = {}): Singer => ({
  id: 'ruth',
  name: 'Ruth',
  comfortable: { low, high },
  reads: 'as written',
  ...more,
});

const inC = (line: string, meter = '4/4') =>
  buildScore({ key: 'C', meter, voices: { tune: line } });

/** Cuts a score in two: a verse and a refrain that begins after so many quarters. */
function withRefrain(score: Score, after: number): Score {
  const end = score.sections[0]?.to ?? 0;
  const at = after * QUARTER;
  return {
    ...score,
    sections: [
      { id: 'v', kind: 'verse', name: 'Verse', from: 0, to: at },
      { id: 'r', kind: 'refrain', name: 'Refrain', from: at, to: end },
    ],
  };
}

const only = (score: Score, singer: Singer, options = {}) => {
  const [row] = table(score, [singer], { keys: [C], ...options }).rows;
  if (!row) throw new Error('no row');
  return row;
};

describe('the verdict on a voice in a key', () => {
  it.each([
    ['nothing outside, little at the ends', 'E4:2 G4:4 B4:2', 'easy'],
    ['a tenth of the time or more at the top', 'E4:6 G4:1 D5:1', 'works'],
    ['a tenth of the time or more at the bottom', 'G4:7 A3:1', 'works'],
    ['the mean beyond the middle half', 'B4:4 C5:4', 'works'],
    ['a twentieth of the time a step above', 'G4:39/2 E5:1/2 G4:4', 'edge'],
    ['more than a twentieth of the time above', 'G4:7 E5:1', 'outside'],
    ['a moment, but more than a step above', 'G4:47/2 F5:1/2', 'outside'],
    ['a moment below', 'G4:47/2 G3:1/2', 'edge'],
  ])('%s', (_, line, verdict) => {
    expect(only(inC(line), ruth('A3', 'D5')).verdict).toBe(verdict);
  });

  it('goes by the furthest notes where somebody has marked them', () => {
    const high = inC('G4:47/2 F5:1/2');
    const limit = { low: 'G3', high: 'F5' };
    expect(only(high, ruth('A3', 'D5', { limit })).verdict).toBe('edge');
    const lower = { low: 'G3', high: 'D#5' };
    expect(only(inC('G4:47/2 E5:1/2'), ruth('A3', 'D5', { limit: lower })).verdict).toBe('outside');
  });
});

describe('the sentence names bar, pitch and beats of its own input', () => {
  it.each([
    [
      'too high, once',
      inC('G4:4 D5:3 G4:1'),
      ruth('A3', 'C5'),
      'Too high for Ruth: bar 2 holds D5 for three beats, a step above C5, the highest that sits easily.',
    ],
    [
      'too high, in all',
      inC('D5:1 G4:3 D5:3 Eb5:1'),
      ruth('A3', 'C5'),
      'Too high for Ruth: bar 2 holds D5 for three beats, a step above C5, the highest that sits easily, and bar 2 goes up to E♭5; the song is above it for five beats in all.',
    ],
    [
      'the refrain',
      withRefrain(inC('D5:1 G4:3 D5:3 C5:1 D5:4'), 4),
      ruth('A3', 'C5'),
      'Too high for Ruth: bar 3 holds D5 for four beats, a step above C5, the highest that sits easily; the refrain is above it for seven beats in all, the rest of the song for one beat.',
    ],
    [
      'too low, beyond the limit',
      inC('G3:1/2 G4:15/2'),
      ruth('B3', 'D5', { limit: { low: 'A3', high: 'E5' } }),
      'Too low for Ruth: bar 1 touches G3 for half a beat, two steps below B3, the lowest that sits easily, beyond A3, the furthest note Ruth has.',
    ],
    [
      'too wide',
      inC('G3:1 E5:1 C4:6'),
      ruth('A3', 'D5'),
      'Too wide for Ruth: bar 1 has E5 for one beat, a step above D5, the highest that sits easily; bar 1 has G3 for one beat, a step below A3, the lowest that sits easily.',
    ],
    [
      'at the edge',
      inC('G4:39/2 E5:1/2 G4:4'),
      ruth('A3', 'D5'),
      'At the edge for Ruth: bar 5 touches E5 for half a beat, a step above D5, the highest that sits easily; nothing else lies outside.',
    ],
    [
      'near the top',
      inC('D5:3 G4:1 C#5:2 G4:2'),
      ruth('A3', 'D5'),
      'Works for Ruth, but near the top: bar 1 holds D5, the highest that sits easily, for three beats, and the song stays up there for five beats of its eight.',
    ],
    [
      'near the bottom, in one place',
      inC('G4:4 Bb3:2 G4:2'),
      ruth('A3', 'D5'),
      'Works for Ruth, but near the bottom: bar 2 holds B♭3, a half step above A3, the lowest that sits easily, for two beats of the song’s eight.',
    ],
    [
      'the whole range',
      inC('A3:2 G4:4 D5:2'),
      ruth('A3', 'D5'),
      'Works for Ruth, filling the whole range: bar 2 holds D5, the highest that sits easily, for two beats of the song’s eight; bar 1 holds A3, the lowest that sits easily, for two beats of the song’s eight.',
    ],
    [
      'lying high',
      inC('B4:4 C5:4'),
      ruth('A3', 'D5'),
      'Works for Ruth, but lying high: on average three steps above the middle of the range; bar 2 holds C5 for four beats.',
    ],
    [
      'easy',
      inC('E4:2 G4:2 B4:1 G4:3'),
      ruth('A3', 'D5'),
      'Sits easily for Ruth: the highest note, B4, comes in bar 2 (one beat) with a step and a half to spare, and the lowest, E4, in bar 1 (two beats) with a fifth to spare.',
    ],
  ])('%s', (_, score, singer, sentence) => {
    expect(only(score, singer).reason).toBe(sentence);
  });

  it.each([
    ['6/8 in two', '6/8', 'D5:3/2 G4:3/2 G4:3', 'bar 1 has D5 for one beat,'],
    ['2/2 in halves', '2/2', 'D5:4 G4:4', 'bar 1 holds D5 for two beats,'],
    ['3/4 in quarters', '3/4', 'D5:3 G4:3', 'bar 1 holds D5 for three beats,'],
  ])('counts the beats people tap: %s', (_, meter, line, words) => {
    expect(only(inC(line, meter), ruth('A3', 'C5')).reason).toContain(words);
  });

  it('calls the notes before the first full bar the pickup', () => {
    expect(only(inC('D5:1 | G4:4 | G4:4'), ruth('A3', 'C5')).reason).toContain('the pickup has D5');
  });

  it('spells as the key asks', () => {
    const singer = ruth('A3', 'D5');
    const names = table(inC('C4:2 E4:4 B4:2'), [singer], {
      keys: [
        { tonic: 'Db', mode: 'major' },
        { tonic: 'C#', mode: 'major' },
      ],
    }).rows.map(({ low, high }) => [low, high]);
    expect(names).toEqual([
      ['Db4', 'C5'],
      ['C#4', 'B#4'],
    ]);
  });
});

describe('the octave', () => {
  const tune = withRefrain(inC('G3:4 A3:4 A4:4 D5:4'), 8);
  const tomas: Singer = { id: 'tomas', name: 'Tomas', comfortable: { low: 'G3', high: 'D4' } };

  it('as written or below moves every figure by twelve half steps', () => {
    const [written, below] = (['as written', 'octave below'] as const).map((reads) =>
      only(tune, { ...tomas, reads }),
    );
    expect(written).toMatchObject({ low: 'G3', high: 'D5', octave: 'as written' });
    expect(below).toMatchObject({ low: 'G2', high: 'D4', octave: 'octave below' });
    expect((written?.shift ?? 0) - (below?.shift ?? 0)).toBe(12);
  });

  it('is one for the whole song where nothing is said, whichever lies better', () => {
    const alto: Singer = { id: 'a', name: 'Ada', comfortable: { low: 'G3', high: 'D5' } };
    expect(only(tune, alto).octave).toBe('as written');
    const bass: Singer = { id: 'b', name: 'Ben', comfortable: { low: 'G2', high: 'D4' } };
    expect(only(tune, bass).octave).toBe('octave below');
  });

  it('may be free: then each section takes the better one, and the sentence says which', () => {
    const row = only(tune, { ...tomas, reads: 'free' });
    expect(row.octave).toBe('free');
    expect(row.perSection.map(({ octave }) => octave)).toEqual(['as written', 'octave below']);
    expect(row).toMatchObject({ low: 'G3', high: 'D4', shareOutside: 0 });
    expect(row.reason).toContain('Tomas with the refrain an octave down and the verse as written');
  });

  it('keeps a name that is no kind of section as the source has it', () => {
    const named: Score = {
      ...tune,
      sections: tune.sections.map((each) => ({ ...each, name: each.id === 'r' ? 'B' : 'VERSE 2' })),
    };
    expect(only(named, { ...tomas, reads: 'free' }).reason).toContain(
      'Tomas with the section B an octave down and verse 2 as written',
    );
  });

  it('can be asked for section by section', () => {
    const options = { octaves: { tomas: { r: 'octave below', v: 'as written' } } };
    expect(only(tune, tomas, options).perSection.map(({ octave }) => octave)).toEqual([
      'as written',
      'octave below',
    ]);
    const whole = only(tune, tomas, { octaves: { tomas: 'octave below' } });
    expect(whole.octave).toBe('octave below');
    expect(whole.reason).toContain('Tomas an octave down: ');
  });
});

describe('the table', () => {
  it('has a row for each key and voice, the written key in its own spelling', () => {
    const score = buildScore({ key: 'Gb', meter: '4/4', voices: { tune: 'Gb4:4 Bb4:4' } });
    const found = table(score, [ruth('A3', 'D5'), { ...ruth('C4', 'E5'), id: 'ines' }]);
    expect(found.rows).toHaveLength(24);
    expect(found.keys.map(({ tonic }) => tonic).join(' ')).toBe('C Db D Eb E F Gb G Ab A Bb B');
    expect(found.rows.filter(({ key }) => key.tonic === 'Gb').map(({ low }) => low)).toEqual([
      'Gb4',
      'Gb4',
    ]);
  });

  it('keeps the mode: a minor song is offered in minor keys', () => {
    const score = buildScore({ key: 'E minor', meter: '4/4', voices: { tune: 'E4:4 B4:4' } });
    expect(table(score, []).keys.every(({ mode }) => mode === 'minor')).toBe(true);
  });

  it('is empty where there is no tune', () => {
    expect(table(inC('r:8'), [ruth('A3', 'D5')])).toMatchObject({ rows: [], tessitura: null });
  });

  it('is plain data that survives being sent', () => {
    const found = table(inC('E4:4 G4:4'), [ruth('A3', 'D5')]);
    expect(JSON.parse(JSON.stringify(found))).toEqual(found);
  });
});
