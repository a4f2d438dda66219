import { describe, expect, it } from 'vitest';
import { WordsAndChords } from '#music';
import { write as writeChord } from '../pitch/chord-symbol.ts';
import { check } from '../score/check-score.ts';
import { sungPasses } from '../score/sung-lines.ts';
import type { Score } from '../score/score.ts';
import { apply, type Edit } from './editing.ts';

const TEXT = `Verse 1
G              C
Lamps along the water
G           D
Carry us to shore

Chorus
C      D      G
Morning, morning

Verse 2
Bells across the valley
Call us out of sleep

Chorus

Bridge
Em
Hush`;

function read(text: string): Score {
  const result = WordsAndChords.read(text);
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

const giveTime = (barsPerChord = 1): Edit => ({ do: 'give time', meter: { beats: 4, unit: 4 }, barsPerChord }); // prettier-ignore

function timed(score: Score, edit = giveTime()): Score {
  const result = apply(score, edit);
  if (!result.ok) throw new Error(result.problems[0]?.message);
  expect(check(result.value)).toEqual([]);
  return result.value;
}

const bars = (score: Score): string =>
  score.bars
    .map(({ number, at, length }) => {
      const inside = score.chords.filter((each) => each.at >= at && each.at < at + length);
      return `${number} ${inside.map(({ chord }) => (chord ? writeChord(chord) : 'N.C.')).join(' ')}`;
    })
    .join(' | ');

describe('a song of words and chords that is given time', () => {
  it('has a bar for each chord, and each line begins with a bar', () => {
    expect(bars(timed(read(TEXT)))).toBe('1 G | 2 C | 3 G | 4 D | 5 C | 6 D | 7 G | 8 Em');
    expect(bars(timed(read(TEXT), giveTime(0.5)))).toBe('1 G C | 2 G D | 3 C D | 4 G | 5 Em');
    expect(timed(read(TEXT), giveTime(2)).bars).toHaveLength(16);
  });

  it('keeps its words as lines of verses; a verse without chords is sung to those of the first', () => {
    const song = timed(read(TEXT));
    expect(song.sections.map(({ name }) => name)).toEqual(['Verse', 'Chorus', 'Bridge']);
    expect(song.verses).toEqual([
      { number: 1, label: '1.', lines: ['Lamps along the water', 'Carry us to shore'] },
      { number: 2, label: '2.', lines: ['Bells across the valley', 'Call us out of sleep'] },
      { number: 3, label: 'Chorus', lines: ['Morning, morning'] },
      { number: 4, label: 'Bridge', lines: ['Hush'] },
    ]);
  });

  it('is sung in the same order with the same words', () => {
    const order = (song: Score) =>
      sungPasses(song).map(({ lines }) =>
        lines.map((line) => line.map(({ text, goesOn }) => text + (goesOn ? '' : ' ')).join('').replace(/ +/g, ' ').trim()),
      ); // prettier-ignore
    const song = read(TEXT);
    expect(order(timed(song))).toEqual(order(song));
    expect(sungPasses(timed(song)).map(({ name }) => name)).toEqual(['Verse 1', 'Chorus', 'Verse 2', 'Chorus', 'Bridge']); // prettier-ignore
  });

  it('has a melody of rests to write into, and then its words under notes', () => {
    const song = timed(read('Verse\nG\nAmen'));
    const bar = song.bars[0]?.length ?? 0;
    const melody = song.melody;
    const first = apply(song, { do: 'note', voice: melody, at: 0, length: bar / 2, pitches: ['G4'] }); // prettier-ignore
    const second = first.ok ? apply(first.value, { do: 'note', voice: melody, at: bar / 2, length: bar / 2, pitches: ['G4'] }) : first; // prettier-ignore
    const sung = second.ok ? apply(second.value, { do: 'words', section: 'verse', verse: 1, text: 'A-men' }) : second; // prettier-ignore
    expect(sung.ok && sung.value.verses).toEqual([{ number: 1, label: '' }]);
    expect(sung.ok && sung.value.voices[0]?.notes.map(({ syllables }) => syllables?.[0]?.text)).toEqual(['A', 'men']); // prettier-ignore
  });

  it('once, and in a meter', () => {
    const again = apply(timed(read(TEXT)), giveTime());
    expect(again.ok ? '' : again.problems[0]?.message).toBe('This song has its bars already.');
    const free = apply(read(TEXT), { do: 'give time', meter: { beats: null, unit: 4 }, barsPerChord: 1 }); // prettier-ignore
    expect(free.ok ? '' : free.problems[0]?.message).toBe('Bars need a meter, such as 4/4.');
  });
});
