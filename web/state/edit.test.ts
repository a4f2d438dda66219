import type { Score } from '#music';
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

async function open(id: string | null = 'lamp'): Promise<SongEditor> {
  const editor = new SongEditor(id);
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

describe('A song that is written', () => {
  it('is on the screen at once and on the server a moment later, several notes at once', async () => {
    const editor = await open();
    type(editor, 'CDE');
    expect(tune(editor.score)).toBe('C4 D4 E4');
    expect(editor.keeping.saving?.words).toBe('Not saved yet');
    expect(tune(server.score)).toBe('');
    await settle();
    expect(tune(server.score)).toBe('C4 D4 E4');
    expect(server.asked.filter((each) => each.startsWith('PUT'))).toHaveLength(1);
    expect(editor.keeping.saving?.words).toBe('Saved');
  });

  it('says what was done and what was taken back', async () => {
    const editor = await open();
    type(editor, 'G');
    expect(editor.said).toContain('G4');
    editor.undo();
    expect(editor.said).toMatch(/^Taken back: .*G4/);
    editor.undo();
    expect(editor.said).toBe('There is nothing to take back.');
    editor.redo();
    expect(tune(editor.score)).toBe('G4');
  });

  it('changes nothing where something cannot be done, and says why', async () => {
    const editor = await open();
    const before = editor.score;
    expect(editor.edit([{ do: 'tie', voice: 'melody', at: 0, on: true }])).toBe(false);
    expect(editor.score).toBe(before);
    expect(editor.refused).toBe(true);
    expect(editor.said).not.toBe('');
  });
});

describe('A song that cannot be saved', () => {
  it('is sent again by itself where the server was away, without anything that tells', async () => {
    const editor = await open();
    server.down = true;
    type(editor, 'C');
    await settle();
    expect(editor.keeping.saving?.isStuck).toBe(true);
    const asked = server.asked.length;
    await vi.advanceTimersByTimeAsync(120_000);
    // 5, 10, 20, 40 s: not all the time.
    expect(server.asked.length - asked).toBeLessThanOrEqual(5);
    server.down = false;
    await vi.advanceTimersByTimeAsync(60_000);
    expect(tune(server.score)).toBe('C4');
    expect(editor.keeping.saving?.words).toBe('Saved');
  });

  it('waits where the server does not answer, and goes when it does', async () => {
    const editor = await open();
    server.down = true;
    type(editor, 'C');
    await settle();
    expect(editor.keeping.saving?.isStuck).toBe(true);
    expect(editor.keeping.saving?.words).toContain('kept on this device');
    type(editor, 'D');
    server.down = false;
    dispatchEvent(new Event('online'));
    await settle();
    expect(tune(server.score)).toBe('C4 D4');
    expect(editor.keeping.saving?.words).toBe('Saved');
  });

  it('stays as it is written where the server refuses it, with the reason', async () => {
    const editor = await open();
    server.refuses = 'That music does not hold together.';
    type(editor, 'C');
    await settle();
    expect(editor.keeping.saving?.words).toContain('That music does not hold together.');
    expect(tune(editor.score)).toBe('C4');
    server.refuses = null;
    await editor.keeping.saving?.now();
    expect(tune(server.score)).toBe('C4');
    type(editor, 'D');
    await settle();
    expect(tune(server.score)).toBe('C4 D4');
    expect(editor.keeping.saving?.words).toBe('Saved');
  });

  it('is not begun on the server before something is written, and then once', async () => {
    const made: string[] = [];
    const editor = new SongEditor(null, { oncreated: (id) => made.push(id) });
    opened.push(editor);
    await editor.load();
    await settle();
    expect(server.asked).toEqual([]);
    type(editor, 'C');
    await settle();
    type(editor, 'D');
    await settle();
    expect(made).toEqual(['lamp']);
    expect(server.asked.map((each) => each.split(' ')[0])).toEqual(['POST', 'PUT']);
  });

  it('is one song where the answer to the first sending was lost, with what was written since', async () => {
    const editor = await open(null);
    server.silent = true;
    type(editor, 'C');
    await settle();
    expect(server.version).toBe(1);
    server.silent = false;
    type(editor, 'D');
    await settle();
    expect(server.asked).toEqual([
      'POST /api/songs',
      'POST /api/songs',
      'PUT /api/songs/lamp/score',
    ]);
    expect(tune(server.score)).toBe('C4 D4');
    expect(editor.conflict).toBeNull();
    expect(editor.keeping.saving?.words).toBe('Saved');
  });

  it('that is not there says so, and can be asked for again', async () => {
    server.down = true;
    const editor = await open();
    expect(editor.keeping.trouble?.code).toBe('offline');
    server.down = false;
    await editor.load();
    expect(editor.keeping.trouble).toBeNull();
    expect(editor.score?.facts.title).toBe('Lamp');
  });
});
