import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { importing } from './import.svelte.ts';
import { notices } from './notice.svelte.ts';

const TEXT = 'The Evening Lamp\n\nG      C\nA lamp in the window\n';
const sent: unknown[] = [];

beforeEach(() => {
  sent.length = 0;
  vi.stubGlobal('fetch', (_: unknown, init: { body: string }) => {
    sent.push(JSON.parse(init.body));
    return Promise.resolve(Response.json({ id: 'lamp' }, { status: 201 }));
  });
  importing.clear();
});

afterEach(() => vi.unstubAllGlobals());

describe('A text of words with chords on its way in', () => {
  it('is read as it stands: its title, its lines, no problem', () => {
    importing.write(TEXT);
    expect(importing.format).toBe('words');
    expect(importing.score?.facts.title).toBe('The Evening Lamp');
    expect(importing.lines.map(({ as }) => as)).toEqual([
      'heading',
      'blank',
      'chords',
      'words',
      'blank',
    ]);
    expect(importing.problems).toEqual([]);
  });

  it('is changed by one tap, and back by the undo', async () => {
    importing.write(TEXT);
    importing.tap(3);
    expect(importing.lines[2]?.as).toBe('words');
    expect(importing.score?.chords).toEqual([]);
    expect(notices.current?.words).toBe('Line 3 is words now.');
    await notices.current?.undo?.();
    expect(importing.lines[2]?.as).toBe('chords');
  });

  it('goes to the server with what was said of it', async () => {
    importing.write(TEXT);
    importing.tap(4, 1);
    expect(await importing.keep()).toBe('lamp');
    expect(sent).toEqual([
      {
        format: 'words',
        text: TEXT,
        answers: {},
        marks: [{ line: 4, column: 1, as: 'chords' }],
      },
    ]);
  });

  it('can be read as ABC instead, which says with a line what is in the way', () => {
    importing.write(TEXT);
    importing.readAs('abc');
    expect(importing.score).toBeNull();
    expect(importing.problems[0]?.line).toBeGreaterThanOrEqual(1);
    importing.readAs('words');
    expect(importing.said).toBeNull();
  });

  it('comes back whole when the page was emptied by mistake', () => {
    importing.write(TEXT);
    importing.tap(3);
    const undo = importing.clear();
    expect(importing.text).toBe('');
    undo();
    expect(importing.text).toBe(TEXT);
    expect(importing.lines[2]?.as).toBe('words');
  });
});
