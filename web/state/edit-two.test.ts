import { Editing, type Score } from '#music';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { FakeSongServer } from '#test/support/fake-song-server.ts';
import { SongEditor } from './edit.svelte.ts';

let server: FakeSongServer;
let opened: SongEditor[] = [];

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
  server = new FakeSongServer();
  vi.stubGlobal('fetch', server.answer);
});

afterEach(async () => {
  for (const editor of opened) editor.leave();
  await vi.advanceTimersByTimeAsync(0);
  opened = [];
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

async function open(): Promise<SongEditor> {
  const editor = new SongEditor('lamp');
  opened.push(editor);
  await editor.load();
  return editor;
}

const settle = (): Promise<unknown> => vi.advanceTimersByTimeAsync(2000);
const type = (editor: SongEditor, letters: string): void => {
  for (const letter of letters) editor.do({ to: 'letter', letter: letter as 'C', add: false });
};
const tune = (score: Score | null): string =>
  score?.voices[0]?.notes.flatMap(({ pitches }) => pitches).join(' ') ?? '';

describe('Two who write at one song', () => {
  async function parted(): Promise<SongEditor> {
    const editor = await open();
    const other = await open();
    type(other, 'A');
    await settle();
    type(editor, 'CD');
    await settle();
    return editor;
  }

  it('are both kept until one is chosen; nothing was written over', async () => {
    const editor = await parted();
    expect(editor.conflict?.mine).toEqual([0]);
    expect(tune(editor.conflict?.saved.score ?? null)).toBe('A4');
    expect(tune(editor.score)).toBe('C4 D4');
    expect(tune(server.score)).toBe('A4');
    type(editor, 'E');
    expect(tune(editor.score)).toBe('C4 D4');
  });

  it('can keep their own, the other one step of undo away', async () => {
    const editor = await parted();
    editor.choose('mine');
    await settle();
    expect(tune(server.score)).toBe('C4 D4');
    editor.undo();
    await settle();
    expect(tune(server.score)).toBe('A4');
  });

  it('can take the saved one, their own one step of undo away', async () => {
    const editor = await parted();
    editor.choose('theirs');
    expect(tune(editor.score)).toBe('A4');
    expect(editor.keeping.saving?.words).toBe('Saved');
    editor.undo();
    await settle();
    expect(tune(server.score)).toBe('C4 D4');
  });

  it('are not asked where both wrote the same', async () => {
    const editor = await open();
    const other = await open();
    type(other, 'C');
    await settle();
    type(editor, 'C');
    await settle();
    expect(editor.conflict).toBeNull();
    expect(editor.keeping.saving?.words).toBe('Saved');
  });

  it('can lay both together where they wrote in other bars; undo takes the own steps back, then theirs', async () => {
    const editor = await open();
    const other = await open();
    type(other, 'A');
    await settle();
    editor.do({ to: 'go', end: 'end' });
    editor.do({ to: 'move', by: 'bar', direction: -1 });
    type(editor, 'CD');
    await settle();
    expect(tune(editor.conflict?.both?.score ?? null)).toBe('A4 C4 D4');
    expect(editor.conflict?.both?.marked).toEqual([0, 3]);
    editor.choose('both');
    await settle();
    expect(tune(server.score)).toBe('A4 C4 D4');
    expect(editor.keeping.saving?.words).toBe('Saved');
    const seen = [0, 1, 2].map(() => {
      editor.undo();
      return tune(editor.score);
    });
    expect(seen).toEqual(['A4 C4', 'A4', 'C4 D4']);
  });

  it('are not offered both where they wrote in one bar', async () => {
    expect((await parted()).conflict?.both).toBeNull();
  });
});

describe('A song of which something else was changed on another page', () => {
  it('is saved on, and nobody is asked, where its music is as it was', async () => {
    const editor = await open();
    server.version = 7;
    type(editor, 'C');
    await settle();
    expect(editor.conflict).toBeNull();
    expect(tune(server.score)).toBe('C4');
    expect(server.version).toBe(8);
    expect(editor.keeping.saving?.words).toBe('Saved');
    type(editor, 'D');
    server.version = 12;
    await settle();
    expect(tune(server.score)).toBe('C4 D4');
    expect(server.version).toBe(13);
  });

  it('keeps what was answered about its key there', async () => {
    const [key] = server.score.keys;
    if (!key) throw new Error('no key');
    const doubted = { ...key, sure: false, reason: 'It ends on G.' };
    server.score = { ...server.score, keys: [doubted] };
    const editor = await open();
    server.score = { ...server.score, keys: [key] };
    server.version = 2;
    type(editor, 'C');
    await settle();
    expect(editor.conflict).toBeNull();
    expect(tune(server.score)).toBe('C4');
    expect(server.score.keys).toEqual([key]);
    type(editor, 'D');
    await settle();
    expect(server.score.keys).toEqual([key]);
  });

  it('is asked about where a chord was corrected there: that is other music', async () => {
    const editor = await open();
    const chord = Editing.apply(server.score, { do: 'chord', at: 0, symbol: 'Am' });
    if (!chord.ok) throw new Error('it can be written');
    [server.score, server.version] = [chord.value, 2];
    editor.do({ to: 'go', end: 'end' });
    editor.do({ to: 'move', by: 'bar', direction: -1 });
    type(editor, 'C');
    await settle();
    expect(editor.conflict?.theirs).toEqual([0, 3]);
    expect(tune(server.score)).toBe('');
    editor.choose('both');
    await settle();
    expect(tune(server.score)).toBe('C4');
    expect(server.score.chords).toEqual(chord.value.chords);
  });

  it('waits, and is not given up, where it cannot be seen what was changed', async () => {
    const editor = await open();
    server.version = 2;
    server.hidden = true;
    type(editor, 'C');
    await settle();
    expect(editor.keeping.saving?.isStuck).toBe(true);
    server.hidden = false;
    await vi.advanceTimersByTimeAsync(10_000);
    expect(tune(server.score)).toBe('C4');
    expect(editor.keeping.saving?.words).toBe('Saved');
  });
});
