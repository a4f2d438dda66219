import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';
import { read, write } from '../../formats/musicxml.ts';
import type { Score } from '../../score/score.ts';
import { melodyOf, placeOf } from '../../score/time.ts';
import { breathsIn, withBreaths } from './breaths.ts';

/** `4 sound`: bar and syllable of the first verse before each breath. */
function said(score: Score): string[] {
  const breaths = breathsIn(score);
  let word = '';
  return melodyOf(score).notes.flatMap(({ at, syllables }) => {
    word = syllables?.[0]?.text ?? word;
    return breaths.has(at) ? [`${placeOf(score, at).bar} ${word}`] : [];
  });
}

describe('where a singer breathes', () => {
  // The stops and lines of the poem as printed in seed-data/hymns (Open Hymnal Project).
  it('is after each line of New Britain, and not at a stop of one verse alone (“grace!”)', () => {
    const score = hymn('Amazing_Grace-New_Britain.abc');
    expect(said(score)).toEqual(['4 sound', '8 me!', '12 found;']);
  });

  it('is at the stops inside the long lines of Coronation too', () => {
    const score = hymn('All_Hail_The_Power_Of_Jesus_Name-Coronation.abc');
    expect(said(score)).toEqual(['2 Name!', '4 fall;', '6 dem,', '9 all.', '11 dem,']);
  });

  it.each(HYMN_FILES)('is never inside a word, before a rest or on a tie: %s', (file) => {
    const score = hymn(file);
    const { notes } = melodyOf(score);
    const breaths = breathsIn(score);
    expect(breaths.size).toBeGreaterThan(1);
    notes.forEach(({ at, tie }, i) => {
      if (!breaths.has(at)) return;
      const next = notes[i + 1];
      expect(tie).toBeUndefined();
      expect(next?.pitches.length).toBeGreaterThan(0);
      score.verses.forEach((_, verse) => {
        const before = notes.slice(0, i + 1).findLast(({ syllables }) => syllables?.[verse]);
        expect(before?.syllables?.[verse]?.hyphen).toBeUndefined();
      });
    });
  });

  it('is nowhere without words, nor where the source has a rest', () => {
    expect(said(songOf('CDEF|GFED|CDEF|G4|]'))).toEqual([]);
    expect(said(songOf('CDEF|GFEz|CDEF|G4|]', ['One two three four five six sev’n, Eight nine ten ’lev’n twelve.']))).toEqual([]); // prettier-ignore
  });

  it('is a comma in MusicXML after all of a note that bar lines cut, and comes back', () => {
    const score = songOf('CDEF|GFED|G8|CDEF|G4|]', ['One two three four five six sev’n eight nine. Ten ’lev’n twelve thir- teen last.']); // prettier-ignore
    expect(said(score)).toEqual(['3 nine.']);
    const [voice] = score.voices;
    if (!voice) throw new Error('a tune has a voice');
    const marked = { ...score, voices: [withBreaths(melodyOf(score), breathsIn(score))] };
    const xml = write(marked);
    // MusicXML 4.0: `breath-mark` is one of the articulations, and stands behind its note.
    expect(xml.match(/<articulations>\s*<breath-mark\s*\/>/g)).toHaveLength(1);
    const again = read(xml);
    const notes = again.ok ? melodyOf(again.value).notes : [];
    const breath = notes.findIndex(({ signs }) => signs?.includes('breath'));
    expect(notes[breath]?.tie).toBeUndefined();
    expect(notes[breath + 1]?.syllables?.[0]?.text).toBe('Ten');
  });
});
