import { Editing, Time, type Score } from '#music';
import { describe, expect, it } from 'vitest';
import { blankSong, countSyllables, named, sayCount, sungNotes, wordsIn } from './edit-words.ts';

describe('Words that are typed under a tune', () => {
  it.each([
    ['A-ma-zing grace!', 4],
    ['A- ma- zing grace', 4],
    ['Glo-_-ri-a _', 5],
    ['  ', 0],
    ['Oh — how', 2],
  ])('“%s” are %i syllables', (text, count) => {
    expect(countSyllables(text)).toBe(count);
  });

  it('are counted against the notes', () => {
    expect(sayCount('A-ma-zing grace', 4)).toBe('4 syllables for 4 notes.');
    expect(sayCount('A-ma-zing grace', 6)).toContain('2 notes at the end are without words');
    expect(sayCount('A-ma-zing', 1)).toContain('2 syllables too many');
  });

  it('come back as they were typed', () => {
    const notes = ['C4', 'D4', 'E4', 'F4'];
    const score = notes.reduce<Score>((now, pitch, i) => {
      const { edit } = Editing.stepped(now, { voice: 'melody', at: i * 20160 }, pitch, 20160);
      const done = Editing.apply(now, edit);
      if (!done.ok) throw new Error('not written');
      return done.value;
    }, blankSong());
    const laid = Editing.apply(score, { do: 'words', section: 'verse', verse: 1, text: 'A-ma-_ zing' }); // prettier-ignore
    if (!laid.ok) throw new Error(laid.problems[0]?.message);
    const [section] = laid.value.sections;
    if (!section) throw new Error('no section');
    expect(sungNotes(laid.value, section)).toHaveLength(4);
    expect(wordsIn(laid.value, section, 1)).toBe('A-ma-_zing');
    expect(countSyllables(wordsIn(laid.value, section, 1))).toBe(4);
    expect(named(laid.value).facts.title).toBe('Amazing');
    expect(Time.melodyOf(laid.value).notes[3]?.syllables?.[0]?.text).toBe('zing');
  });
});

describe('A song that nobody gave a title', () => {
  it('is called so in the book, until it has words or a title', () => {
    const song = blankSong();
    expect(named(song).facts.title).toBe('Without a title');
    const titled = { ...song, facts: { ...song.facts, title: 'Lamp' } };
    expect(named(titled)).toBe(titled);
  });
});
