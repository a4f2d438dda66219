import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { songOf } from '#test/support/small-abc.ts';
import { minutesOf, ofSong, sayLength, sayMinutes } from './lengths.ts';

const AS_IT_IS = { tempo: null, form: null };

describe('the length of a song', () => {
  it('is its introduction and every pass at its tempo', () => {
    // Four bars, the pickup of the last phrase left out, and seven verses of 48 quarters at 100 a minute.
    const song = hymn('Amazing_Grace-New_Britain.abc');
    const { seconds, words, sure } = ofSong(song, AS_IT_IS);
    const introduction = song.introduction.length > 0 ? 11 : 12;
    expect(seconds).toBeCloseTo(((introduction + 7 * 48) / 100) * 60, 6);
    expect(words).toBe('about 3 minutes 30 seconds, the introduction included');
    expect(sure).toBe(true);
  });

  it('halves at twice the tempo, and follows the form of the week', () => {
    const song = hymn('Amazing_Grace-New_Britain.abc');
    const beat = song.tempo?.beat ?? 0;
    const length = (perMinute: number, verses: number) => {
      const form = Array.from({ length: verses }, (_, i) => ({ section: 'verse', verse: i + 1 }));
      const section = song.sections[0]?.id ?? '';
      const passes = form.map((pass) => ({ ...pass, section }));
      return ofSong(song, { tempo: { beat, perMinute }, form: passes }).seconds ?? NaN;
    };
    expect(length(200, 3)).toBeCloseTo(length(100, 3) / 2, 6);
    expect(length(100, 3) - length(100, 2)).toBeCloseTo((48 / 100) * 60, 6);
  });

  it.each([
    ['no tempo', () => ({ ...songOf('"C"CDEF|'), tempo: null }), 'no tempo is given'],
    ['no time', () => ({ ...songOf('"C"CDEF|'), untimed: true as const }), 'words and chords'],
  ])('is not known where there is %s, and says so', (_, song, why) => {
    const length = ofSong(song(), AS_IT_IS);
    expect(length).toMatchObject({ seconds: null, sure: false });
    expect(length.words).toContain(why);
  });

  it('says how many fermatas it does not count, each as often as it is sung', () => {
    const song = { ...songOf('"C"CDHEF|', ['a b c d', 'e f g h']), tempo: null };
    const length = ofSong(song, { tempo: { beat: 20160, perMinute: 60 }, form: null });
    expect(length.words).toMatch(/^about .*; two fermatas are not counted$/);
    expect(length.sure).toBe(false);
  });

  it('without a meter is a guess', () => {
    const song = hymn('O_Come_O_Come_Emmanuel-Veni_Emmanuel.abc');
    const free = { ...song, meters: [{ at: 0, meter: { beats: null, unit: 4 } }] };
    expect(ofSong(free, AS_IT_IS)).toMatchObject({ sure: false });
  });
});

describe('a length in words', () => {
  it.each([
    [2, '10 seconds'],
    [54, '50 seconds'],
    [56, '1 minute'],
    [124, '2 minutes'],
    [200, '3 minutes 20 seconds'],
  ])('%d seconds: %s', (seconds, words) => {
    expect(sayLength(seconds)).toBe(words);
  });

  it.each([
    [0, '0 minutes'],
    [1, '1 minute'],
    [48, '48 minutes'],
    [60, '1 hour'],
    [125, '2 hours 5 minutes'],
  ])('%d minutes: %s', (minutes, words) => {
    expect(sayMinutes(minutes)).toBe(words);
  });

  it('counts a minute that has begun', () => {
    expect([0.5, 60, 61, 180].map(minutesOf)).toEqual([1, 1, 2, 3]);
  });
});
