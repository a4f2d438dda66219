import { describe, expect, it } from 'vitest';
import { WordsAndChords, type Compass, type Score } from '#music';
import { buildScore } from '#test/support/score-builder.ts';
import { voice as congregation } from './congregation.ts';
import { front, rowsOf, table } from './key-fit.ts';
import type { Singer } from './range.ts';

const ruth = (low = 'A3', high = 'D5', more: Partial<Singer> = {}): Singer => ({
  id: 'ruth',
  name: 'Ruth',
  comfortable: { low, high },
  reads: 'as written',
  ...more,
});

/** A song of words and chords in G with a compass that somebody gave. */
function song(low: string, high: string, mostly: Compass['mostly'] = null): Score {
  const read = WordsAndChords.read('Key: G\nVerse 1\nG   C\nLamps along\nD  G\nthe water');
  if (!read.ok) throw new Error('not read');
  return { ...read.value, compass: { low, high, mostly } };
}

const inKey = (score: Score, tonic: string, singer = ruth()) => {
  const row = table(score, [singer]).ends.find(({ key }) => key.tonic === tonic);
  if (!row) throw new Error(`no row in ${tonic}`);
  return row;
};

describe('a song of which only lowest and highest note are known', () => {
  /**
   * Reserves and tessitura shift by the formulas of Herbst et al. 2012 (International Journal of Research in Choral
   * Singing 5 (1)): lower reserve l − L, upper reserve H − h, shift half of lower minus upper. Worked out by hand for a
   * tune from D4 to D5 in G and a voice from A3 to D5, in half steps.
   */
  it.each([
    ['Db', 'Ab3', 'Ab4', -1, 6, -3.5, 'edge'],
    ['D', 'A3', 'A4', 0, 5, -2.5, 'works'],
    ['Eb', 'Bb3', 'Bb4', 1, 4, -1.5, 'works'],
    ['E', 'B3', 'B4', 2, 3, -0.5, 'easy'],
    ['F', 'C4', 'C5', 3, 2, 0.5, 'easy'],
    ['F#', 'C#4', 'C#5', 4, 1, 1.5, 'works'],
    ['G', 'D4', 'D5', 5, 0, 2.5, 'works'],
    ['Ab', 'Eb4', 'Eb5', 6, -1, 3.5, 'edge'],
    ['A', 'E4', 'E5', 7, -2, 4.5, 'edge'],
    ['Bb', 'F4', 'F5', 8, -3, 5.5, 'outside'],
  ])(
    'in %s lies from %s to %s, with reserves %d and %d and a shift of %d: %s',
    (key, low, high, lowerReserve, upperReserve, shift, verdict) => {
      const row = inKey(song('D4', 'D5'), key);
      expect(row).toMatchObject({ low, high, lowerReserve, upperReserve, shift, verdict });
    },
  );

  it('says nothing of time', () => {
    const row = inKey(song('D4', 'D5'), 'G');
    expect(Object.keys(row).filter((name) => /share|mean|perSection/.test(name))).toEqual([]);
    const found = table(song('D4', 'D5'), [ruth()]);
    expect([found.rows, found.tessitura]).toEqual([[], null]);
  });

  it('says so in its sentence', () => {
    expect(inKey(song('D4', 'D5', { low: 'G4', high: 'B4' }), 'F').reason).toBe(
      'Sits easily for Ruth: the highest note, C5, has a step to spare, the lowest, C4, a step and a half to spare, mostly from F4 to A4; going by the lowest and highest note that were given; how long it lies there is not known.',
    );
    expect(inKey(song('D4', 'D5'), 'Ab').reason).toBe(
      'At the edge for Ruth: the highest note, E♭5, lies a half step above D5, the highest that sits easily; going by the lowest and highest note that were given; how long it lies there is not known.',
    );
    expect(inKey(song('D4', 'D5', { low: 'B4', high: 'D5' }), 'G').reason).toMatch(
      /^Works for Ruth, lying high: /,
    );
  });

  it('is outside where it mostly lies outside, and where it goes past the furthest note', () => {
    expect(inKey(song('D4', 'D5', { low: 'A4', high: 'D5' }), 'Ab').verdict).toBe('outside');
    expect(inKey(song('D4', 'D5', { low: 'F4', high: 'A4' }), 'Ab').verdict).toBe('edge');
    const limit = { low: 'A3', high: 'D5' };
    expect(inKey(song('D4', 'D5'), 'Ab', ruth('A3', 'D5', { limit })).verdict).toBe('outside');
  });

  it('is taken in the octave in which it lies better', () => {
    const low = inKey(song('D4', 'D5'), 'G', { ...ruth('C3', 'E4'), reads: 'free' });
    expect([low.octave, low.low, low.high]).toEqual(['octave below', 'D3', 'D4']);
    expect(low.reason).toContain('Ruth an octave down');
  });

  it('has keys that fit, a suggestion, and words that promise no time', () => {
    const found = front(table(song('D4', 'D5'), [ruth(), congregation()]), { lead: 'ruth' });
    expect(found.rows.map(({ key }) => key.tonic).join(' ')).toBe('D Eb E F F# G');
    expect(found.suggestion?.key.tonic).toBe('F');
    expect(JSON.stringify(found)).not.toMatch(/weighted by time|% of the singing|NaN|null,"hands/);
    const narrow = front(table(song('D4', 'D5'), [ruth('D4', 'C5')]), { lead: 'ruth' });
    // In F, F sharp and G two half steps lie outside, at one end or at both.
    expect(narrow.relaxed).toContain('F, F♯, G stay, with the least outside. In F: At the edge for Ruth: the lowest note, C4, lies a step below D4'); // prettier-ignore
    const costs = narrow.rows.find(({ key }) => key.tonic === 'G')?.costs[0];
    expect(costs?.words).toBe('Ruth: at the edge, a step beyond');
  });

  it('a written tune counts before what somebody gave', () => {
    const written = { ...buildScore({ key: 'G', meter: '4/4', voices: { tune: 'G4:4' } }), compass: { low: 'A3', high: 'E5', mostly: null } }; // prettier-ignore
    const found = table(written, [ruth()]);
    expect([found.ends, found.compass]).toEqual([[], null]);
    expect(rowsOf(found)).toBe(found.rows);
    expect(found.rows[0]?.known).toBe('melody');
  });
});
