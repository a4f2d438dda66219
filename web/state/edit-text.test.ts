import { WordsAndChords, type Score } from '#music';
import { describe, expect, it, vi } from 'vitest';
import { SongEditor } from './edit.svelte.ts';
import { readInto, WordsText } from './edit-text.svelte.ts';

const TEXT = 'The Evening Lamp\n\nVerse 1\nG        C     G\nA lamp in the window\n';

function read(text: string): Score {
  const song = WordsAndChords.read(text);
  if (!song.ok) throw new Error(song.problems[0]?.message);
  return song.value;
}

async function open(): Promise<{ editor: SongEditor; words: WordsText }> {
  const song = { id: 'lamp', version: 1, score: read(TEXT) };
  vi.stubGlobal('fetch', () => Promise.resolve(Response.json(song, { headers: { etag: '"v1"' } })));
  const editor = new SongEditor('lamp');
  await editor.load();
  return { editor, words: new WordsText(editor) };
}

describe('A song of words and chords that is corrected as text', () => {
  it('is the song at once, and one undo takes a burst of typing back', async () => {
    const { editor, words } = await open();
    const before = words.text;
    words.write(before.replace('lamp in', 'lantern in'));
    words.write(before.replace('lamp in', 'lantern by'));
    expect(WordsAndChords.write(editor.score as Score)).toContain('lantern by');
    expect(editor.history.done).toHaveLength(1);
    editor.undo();
    expect(words.text).toBe(before);
    editor.leave();
    vi.unstubAllGlobals();
  });

  it('keeps a text that cannot be read as it is typed, and the song as it was read last', async () => {
    const { editor, words } = await open();
    const song = editor.score;
    words.write('');
    expect(words.text).toBe('');
    expect(words.problems.length).toBeGreaterThan(0);
    expect(editor.score).toBe(song);
    expect(editor.typed).toEqual({ text: '' });
    editor.leave();
    vi.unstubAllGlobals();
  });

  it('follows another title, and keeps what no text holds', async () => {
    const { editor, words } = await open();
    editor.edit([{ do: 'facts', facts: { title: 'The Morning Lamp' } }]);
    expect(words.text).toContain('The Morning Lamp');
    const before = { ...read(TEXT), compass: { low: 'A3', high: 'D5', mostly: null } } as const;
    const facts = { ...before.facts, credits: ['Words: nobody, 1901.'] };
    const after = readInto({ ...before, facts }, read(TEXT.replace('window', 'hall')));
    expect(after.compass).toEqual(before.compass);
    expect(after.facts.credits).toEqual(['Words: nobody, 1901.']);
    editor.leave();
    vi.unstubAllGlobals();
  });

  it('takes a line for something else by one tap', async () => {
    const { words } = await open();
    const line = words.lines.findIndex(({ as }) => as === 'chords');
    words.tap(line + 1);
    expect(words.lines[line]?.as).toBe('words');
    vi.unstubAllGlobals();
  });
});
