import { Editing, type Edit, type Score } from '#music';
import { describe, expect, it } from 'vitest';
import { alike, differences, sayBars } from './edit-differences.ts';
import { blankSong } from './edit-words.ts';

const after = (score: Score, ...edits: Edit[]): Score =>
  edits.reduce((now, edit) => {
    const done = Editing.apply(now, edit);
    if (!done.ok) throw new Error(done.problems[0]?.message);
    return done.value;
  }, score);

const note = (bar: number, pitch = 'G4'): Edit => ({
  do: 'note',
  voice: 'melody',
  at: (bar - 1) * 80640,
  length: 20160,
  pitches: [pitch],
});

describe('Two states of a song', () => {
  const song = after(blankSong(), note(1), note(2), note(3), note(4));

  it('that are the same differ in nothing, whatever the order of their fields', () => {
    const turned = Object.fromEntries(Object.entries(song).reverse()) as unknown as Score;
    expect(differences(song, turned)).toEqual({ mine: [], theirs: [], besides: [] });
    expect(alike(song, turned)).toBe(true);
  });

  it('differ in the bars where one was changed', () => {
    const found = differences(after(song, note(3, 'A4')), after(song, note(2, 'B4')));
    expect(found.mine).toEqual([1, 2]);
    expect(sayBars(song, found.mine)).toBe('bars 2 and 3');
  });

  it('differ in the bars that one put in, and in no other', () => {
    const mine = after(song, { do: 'insert bars', bar: 2, count: 2 });
    const found = differences(mine, song);
    expect(sayBars(mine, found.mine)).toBe('bars 3 and 4');
    expect(found.theirs).toEqual([]);
  });

  it('differ in words and chords as well as in notes', () => {
    const mine = after(song, { do: 'chord', at: 80640, symbol: 'D7' });
    expect(sayBars(mine, differences(mine, song).mine)).toContain('2');
    const worded = after(song, { do: 'words', section: 'verse', verse: 1, text: 'One two' });
    expect(differences(worded, song).mine).toEqual([0, 1]);
  });

  it('differ besides in what no bar has', () => {
    const mine = after(song, { do: 'facts', facts: { title: 'Evening' } });
    expect(differences(mine, song).besides).toEqual(['the title']);
  });
});

describe('Bars', () => {
  it.each([
    [[0], 'bar 1'],
    [[0, 1], 'bars 1 and 2'],
    [[0, 1, 2], 'bars 1 to 3'],
    [[0, 2, 3], 'bars 1, 3 and 4'],
    [[0, 3], 'bars 1 and 4'],
    [[], ''],
  ] as const)('%j are said as “%s”', (indexes, words) => {
    expect(sayBars(blankSong(), indexes)).toBe(words);
  });

  it('the pickup is called so', () => {
    const score = after(blankSong(), { do: 'pickup', length: 20160 });
    expect(sayBars(score, [0, 1])).toBe('the pickup and bar 1');
  });
});
