import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { filesOfField, sortOut, type FoundFile } from './dropped.ts';
import { ImportMany } from './import-many.svelte.ts';
import { namesIn, withNames } from './import-names.ts';
import { sayReport } from './import-report.ts';
import { notices } from './notice.svelte.ts';

const file = (path: string, text = `X:1\nT:${path}\nK:C\nC|`): FoundFile => ({
  path,
  file: new File([text], path),
});

interface Sent {
  readonly path: string;
  readonly method: string;
  readonly body: { files?: { name: string; bytes: string }[]; doubles?: string; tune?: number };
}

let sent: Sent[] = [];
/** What the server answers next; missing: every file is in. */
let next: ((sent: Sent) => Response | Promise<Response>)[] = [];

const inBook = ({ body }: Sent) =>
  Response.json({
    lines: (body.files ?? [{ name: 'book.zip' }]).map(({ name }) => ({
      file: name,
      title: name,
      outcome: 'in',
      song: `id-${name}`,
      why: '',
      problems: [],
      double: null,
    })),
  });

const refusal = (status: number, detail = 'No.') =>
  Response.json({ code: 'no', detail, title: 'No' }, { status });

beforeEach(() => {
  [sent, next] = [[], []];
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    const text = typeof init.body === 'string' ? init.body : '{}';
    const body = JSON.parse(text) as Sent['body'];
    const one = { path, method: init.method ?? 'GET', body };
    sent.push(one);
    init.signal?.throwIfAborted();
    if (init.method === 'DELETE') return new Response(null, { status: 204 });
    if (path.endsWith('/restore')) return Response.json({});
    return (next.shift() ?? inBook)(one);
  });
});

afterEach(() => {
  vi.unstubAllGlobals();
  notices.dismiss();
});

const namesOf = ({ body }: Sent): string[] => (body.files ?? []).map(({ name }) => name);

describe('Many files on their way in', () => {
  it('go some at a time, none twice, and are told in one report', async () => {
    const many = new ImportMany();
    await many.take(Array.from({ length: 70 }, (_, i) => file(`${i}.abc`)));
    expect(sent.map(({ path }) => path)).toEqual(['/api/imports', '/api/imports', '/api/imports']);
    expect(sent.map((one) => namesOf(one).length)).toEqual([25, 25, 20]);
    expect(new Set(sent.flatMap(namesOf)).size).toBe(70);
    expect([many.state, many.done, many.lines.length]).toEqual(['done', 70, 70]);
  });

  it('stay within what one request carries', async () => {
    const many = new ImportMany();
    const large = 'x'.repeat(3_000_000);
    await many.take(['a.abc', 'b.abc', 'c.abc'].map((path) => file(path, large)));
    expect(sent.map(namesOf)).toEqual([['a.abc', 'b.abc'], ['c.abc']]);
  });

  it('wait where the network goes, and go on with what is left', async () => {
    const many = new ImportMany();
    next = [inBook, () => Promise.reject(new TypeError('network'))];
    await many.take(Array.from({ length: 70 }, (_, i) => file(`${i}.abc`)));
    expect([many.state, many.done, many.waiting.length]).toEqual(['stopped', 25, 45]);
    expect(many.trouble?.status).toBe(0);
    await many.send();
    expect([many.state, many.lines.length, many.trouble]).toEqual(['done', 70, null]);
    expect(new Set(many.brought).size).toBe(70);
  });

  it('are sent one by one where a request is refused, so that the one in the way is named', async () => {
    const many = new ImportMany();
    next = [() => refusal(413), inBook, () => refusal(413, 'That is too large.'), inBook];
    await many.take([file('a.abc'), file('b.abc'), file('c.abc')]);
    expect(sent.map((one) => namesOf(one).join())).toEqual([
      'a.abc,b.abc,c.abc',
      'a.abc',
      'b.abc',
      'c.abc',
    ]);
    expect(many.lines.map(({ outcome, why }) => [outcome, why])).toEqual([
      ['in', ''],
      ['failed', 'That is too large.'],
      ['in', ''],
    ]);
    expect(many.waiting).toEqual([]);
  });

  it('can be stopped: what is in stays, the rest waits', async () => {
    const many = new ImportMany();
    next = [
      (one) => {
        many.stop();
        return inBook(one);
      },
    ];
    await many.take(Array.from({ length: 35 }, (_, i) => file(`${i}.abc`)));
    expect(many.state).toBe('stopped');
    expect(many.waiting).toHaveLength(10);
    expect(sent).toHaveLength(1);
  });

  it('an archive goes alone to the library', async () => {
    const many = new ImportMany();
    await many.take([file('a.abc'), file('book.zip'), file('c.abc')]);
    expect(sent.map(({ path }) => path)).toEqual(['/api/imports', '/api/library', '/api/imports']);
  });

  it('are taken out again in one step, and that is undone in one', async () => {
    const many = new ImportMany();
    await many.take([file('a.abc'), file('b.abc')]);
    await many.takeOut();
    const gone = sent.filter(({ method }) => method === 'DELETE').map(({ path }) => path);
    expect(gone).toEqual(['/api/songs/id-a.abc', '/api/songs/id-b.abc']);
    expect(many.brought).toEqual([]);
    await notices.undo();
    expect(sent.slice(-2).map(({ path }) => path)).toEqual(gone.map((path) => `${path}/restore`));
    expect(many.brought).toEqual(['id-a.abc', 'id-b.abc']);
  });

  it('a song that was left out is brought all the same, the right one of its file', async () => {
    const many = new ImportMany();
    const line = (title: string, outcome: string) => ({
      file: 'two.abc',
      title,
      outcome,
      song: null,
      why: '',
      problems: [],
      double: { id: 'old', title, because: 'title' },
    });
    next = [
      () => Response.json({ lines: [line('One', 'left out'), line('Two', 'left out')] }),
      () => Response.json({ id: 'new' }, { status: 201 }),
    ];
    await many.take([file('two.abc'), file('notes.pdf')]);
    const second = many.lines.find(({ title }) => title === 'Two');
    expect(second && (await many.bring(second))).toBe(true);
    expect(sent.at(-1)).toMatchObject({ path: '/api/songs', body: { format: 'abc', tune: 1 } });
    expect(many.brought).toEqual(['new']);
  });
});

describe('The files of a folder', () => {
  it('are sorted: songs, others with why, and what systems leave is not mentioned', () => {
    const { songs, others } = sortOut(
      ['hymns/a.ABC', 'hymns/b.mxl', 'hymns/.DS_Store', '__MACOSX/a.abc', 'scan.pdf'].map((path) => file(path)), // prettier-ignore
    );
    expect(songs.map(({ path }) => path)).toEqual(['hymns/a.ABC', 'hymns/b.mxl']);
    expect(others.map(({ path }) => path)).toEqual(['scan.pdf']);
  });

  it('keep the folder they lay in', () => {
    const one = new File(['x'], 'a.abc');
    Object.defineProperty(one, 'webkitRelativePath', { value: 'hymns/a.abc' });
    expect(filesOfField([one]).map(({ path }) => path)).toEqual(['hymns/a.abc']);
  });
});

describe('The report', () => {
  const lines = (outcomes: Record<string, number>) =>
    Object.entries(outcomes).flatMap(([outcome, count]) =>
      Array.from({ length: count }, () => ({ outcome: outcome as 'in' })),
    );

  it.each([
    [{ in: 9, 'in with guesses': 3, 'left out': 2, failed: 1 }, '12 songs are in, 3 of them with guesses; 2 left out, 1 could not be read.'], // prettier-ignore
    [{ in: 1 }, '1 song is in.'],
    [{ failed: 2 }, 'No song is in; 2 could not be read.'],
  ])('%j is one sentence', (outcomes, words) => expect(sayReport(lines(outcomes))).toBe(words));
});

describe('What the chords of a text are called', () => {
  it('is said in a line under its title, changed there, and taken out again', () => {
    const text = 'A song\n\nC  G\nwords here';
    const said = withNames(text, 'German');
    expect(said).toBe('A song\nChords: German\n\nC  G\nwords here');
    expect(namesIn(said)).toBe('German');
    expect(namesIn(withNames(said, 'numbers from 6-'))).toBe('numbers from 6-');
    expect(withNames(said, null)).toBe(text);
    expect(namesIn(text)).toBeNull();
  });
});
