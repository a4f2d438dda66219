import { Editing, Time, type Score } from '#music';
import { describe, expect, it } from 'vitest';
import {
  beginOf,
  blankSong,
  countSyllables,
  named,
  sayCount,
  sungNotes,
  wordsIn,
} from './edit-words.ts';

describe('Words that are typed under a tune', () => {
  it.each([
    ['A-ma-zing grace!', 4, 0],
    ['A- ma- zing grace', 4, 0],
    ['Glo-_-ri-a _', 3, 2],
    ['_ _', 0, 2],
    ['  ', 0, 0],
    ['Oh — how', 2, 0],
  ])('“%s” are %i syllables and %i held notes', (text, syllables, held) => {
    expect(countSyllables(text)).toEqual({ syllables, held });
  });

  it('are counted against the notes', () => {
    expect(sayCount('A-ma-zing grace', 4)).toBe('4 syllables for 4 notes.');
    expect(sayCount('A-ma-zing grace', 6)).toContain('2 notes at the end are without words');
    expect(sayCount('A-ma-zing', 1)).toContain('2 syllables too many');
    expect(sayCount('A-ma-zing _ grace _', 6)).toBe('4 syllables and 2 held notes for 6 notes.');
    expect(sayCount('A _', 3)).toContain('1 syllable and 1 held note for 3 notes: 1 note at the end is without words yet.'); // prettier-ignore
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
    expect(countSyllables(wordsIn(laid.value, section, 1))).toEqual({ syllables: 3, held: 1 });
    // The cursor at the third note: words can begin there.
    expect(beginOf(laid.value, section, 0, 2 * 20160)).toEqual({ now: 0, isFirst: true, here: 2 * 20160 }); // prettier-ignore
    expect(beginOf(laid.value, section, 2 * 20160, 2 * 20160)).toEqual({ now: 2 * 20160, isFirst: false, here: null }); // prettier-ignore
    expect(sungNotes(laid.value, section, 20160)).toHaveLength(3);
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
