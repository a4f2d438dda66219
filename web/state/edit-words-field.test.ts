import { MusicXml, QUARTER, SungLines } from '#music';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { FakeSongServer } from '#test/support/fake-song-server.ts';
import { WordsField } from './edit-words-field.svelte.ts';
import { SongEditor } from './edit.svelte.ts';

let editor: SongEditor;

beforeEach(async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
  vi.stubGlobal('fetch', new FakeSongServer().answer);
  editor = new SongEditor('lamp');
  await editor.load();
});

afterEach(async () => {
  editor.leave();
  await vi.advanceTimersByTimeAsync(0);
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const type = (letters: string): void => {
  for (const letter of letters) editor.do({ to: 'letter', letter: letter as 'C', add: false });
};

/** The first four notes' syllables of verse 1. */
const sung = (): string =>
  (editor.score?.voices[0]?.notes ?? [])
    .slice(0, 4)
    .map(({ syllables }) => syllables?.[0]?.text ?? '.')
    .join(' ');

function section() {
  const [first] = editor.score?.sections ?? [];
  if (!first) throw new Error('no section');
  return first;
}

describe('Words that are typed', () => {
  it('stay in their field where they find no note, until they do', () => {
    const words = new WordsField(editor);
    words.write(section(), 'A-ma-zing');
    expect(editor.refused).toBe(true);
    expect(words.textIn(section())).toBe('A-ma-zing');
    type('CDE');
    words.write(section(), 'A-ma-zing');
    expect(editor.typed).toEqual({});
    expect(sung()).toBe('A ma zing .');
  });

  it('are not called saved while only this device has them', async () => {
    const words = new WordsField(editor);
    type('CDE');
    words.write(section(), 'A-ma-zing');
    await vi.advanceTimersByTimeAsync(2000);
    expect(editor.savedWords).toBe('Saved');
    words.write(section(), 'A-ma-zing grace');
    await vi.advanceTimersByTimeAsync(2000);
    expect(editor.savedWords).toBe('Saved; one syllable is not in the song yet');
    words.write(section(), 'A-ma-zing grace how');
    expect(editor.savedWords).toBe('Saved; two syllables are not in the song yet');
    words.write(section(), 'So ma-ny oth-er');
    expect(editor.savedWords).toBe('Saved; two syllables are not in the song yet');
    editor.type('text', 'A line that cannot be read');
    expect(editor.savedWords).toBe('Saved; what is typed last is not in the song yet');
    editor.type('text', null);
    words.write(section(), 'So ma-ny');
    await vi.advanceTimersByTimeAsync(2000);
    expect(editor.savedWords).toBe('Saved');
  });

  it('stand under the notes from where they were begun, also before any are typed', () => {
    type('CDEF');
    const words = new WordsField(editor);
    const steps = editor.history.done.length;
    words.write(section(), '', 2 * QUARTER);
    expect(editor.history.done.length).toBe(steps);
    words.write(section(), 'one');
    words.write(section(), 'one two');
    expect(sung()).toBe('. . one two');
    expect(words.beginIn(section())).toBe(2 * QUARTER);
    words.write(section(), 'one two', section().from);
    expect(sung()).toBe('one two . .');
    editor.undo();
    expect(sung()).toBe('. . one two');
    expect(words.beginIn(section())).toBe(2 * QUARTER);
    // Too many for what is left: nothing is laid, and they begin where they were begun.
    words.write(section(), 'one two three');
    expect([editor.refused, words.beginIn(section())]).toEqual([true, 2 * QUARTER]);
    expect(sung()).toBe('. . one two');
  });

  it('of a refrain are for all verses, whichever is open, and stand where a file has them', () => {
    type('CDEFCDEF');
    const words = new WordsField(editor);
    editor.edit([{ do: 'begin section', bar: 1, kind: 'refrain', name: 'Refrain' }]);
    const [verse, refrain] = editor.score?.sections ?? [];
    if (!verse || !refrain) throw new Error('no refrain');
    words.write(verse, 'one two three four');
    editor.verse = 2;
    words.write(verse, 'five six sev-en');
    words.write(refrain, 'praise the Lord');
    words.write(refrain, 'praise him al-ways');
    expect(editor.said).toBe('Refrain, all verses: words under the notes');
    expect([words.isForAll(verse), words.isForAll(refrain)]).toEqual([false, true]);
    const { score } = editor;
    if (!score) throw new Error('no song');
    // Every pass sings them, and other programs find them under the first verse.
    const sung = SungLines.sungPasses(score).map(({ name, lines }) => [
      name,
      lines
        .flat()
        .map(({ text }) => text)
        .join(' ')
        .trim(),
    ]);
    expect(sung).toEqual([
      ['Verse 1', 'one two three four'],
      ['Refrain', 'praise him al ways'],
      ['Verse 2', 'five six sev en'],
      ['Refrain', 'praise him al ways'],
    ]);
    const xml = MusicXml.write(score, { verses: [1] });
    expect(xml).toContain('praise');
    const again = MusicXml.read(xml);
    const notes = again.ok ? again.value.voices[0]?.notes : [];
    expect(notes?.[4]?.syllables?.map((each) => each?.text)).toEqual(['praise']);
    // One verse may have its own words there all the same.
    words.byVerse = refrain.id;
    words.write(refrain, 'oth-er words now');
    words.byVerse = null;
    expect(words.isForAll(refrain)).toBe(false);
    expect(editor.score?.form.map(({ verse: number }) => number)).toEqual([1, 1, 2, 2]);
    expect(words.textIn(refrain)).toBe('oth-er words now');
    editor.verse = 1;
    expect(words.textIn(refrain)).toBe('praise him al-ways');
  });
});
