import type { Score } from '#music';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { SongEditor } from './edit.svelte.ts';
import { blankSong } from './edit-words.ts';

/** A server with one song, as the routes answer: versions, 412 for a stale one, and what one tells it to refuse. */
class FakeServer {
  version = 1;
  score: Score = { ...blankSong(), facts: { ...blankSong().facts, title: 'Lamp' } };
  down = false;
  refuses: string | null = null;
  readonly asked: string[] = [];

  answer = (path: string, init: RequestInit = {}): Promise<Response> => {
    const method = init.method ?? 'GET';
    this.asked.push(`${method} ${path}`);
    if (this.down) return Promise.reject(new TypeError('no network'));
    if (method === 'GET') return Promise.resolve(this.#song());
    const { score } = JSON.parse(String(init.body)) as { score: Score };
    if (this.refuses) return Promise.resolve(this.#problem(422, this.refuses));
    const on = new Headers(init.headers).get('if-match');
    if (method === 'PUT' && on !== `"v${this.version}"`)
      return Promise.resolve(this.#problem(412, 'Someone else changed it.'));
    [this.score, this.version] = [score, method === 'POST' ? 1 : this.version + 1];
    return Promise.resolve(this.#song(method === 'POST' ? 201 : 200));
  };

  #song(status = 200): Response {
    const body = { id: 'lamp', version: this.version, score: this.score };
    return Response.json(body, { status, headers: { etag: `"v${this.version}"` } });
  }

  #problem(status: number, detail: string): Response {
    return Response.json({ code: 'x', detail, status }, { status });
  }
}

let server: FakeServer;
let opened: SongEditor[] = [];

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
  server = new FakeServer();
  vi.stubGlobal('fetch', server.answer);
});

afterEach(() => {
  for (const editor of opened) editor.leave();
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

  it('keeps in their field words that find no note, until they do', async () => {
    const editor = await open();
    const [section] = editor.score?.sections ?? [];
    if (!section) throw new Error('no section');
    editor.writeWords(section, 'A-ma-zing');
    expect(editor.refused).toBe(true);
    expect(editor.wordsIn(section, 1)).toBe('A-ma-zing');
    type(editor, 'CDE');
    const [now] = editor.score?.sections ?? [];
    editor.writeWords(now ?? section, 'A-ma-zing');
    expect(editor.typed).toEqual({});
    expect(editor.score?.voices[0]?.notes[1]?.syllables?.[0]?.text).toBe('ma');
  });
});

describe('A song that cannot be saved', () => {
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
    editor.keepMine();
    await settle();
    expect(tune(server.score)).toBe('C4 D4');
    editor.undo();
    await settle();
    expect(tune(server.score)).toBe('A4');
  });

  it('can take the saved one, their own one step of undo away', async () => {
    const editor = await parted();
    editor.takeTheirs();
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
});
