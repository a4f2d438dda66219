import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { filesOfField, sortOut, type FoundFile } from './dropped.ts';
import { ImportMany } from './import-many.svelte.ts';
import { notices } from './notice.svelte.ts';

const file = (path: string, text = `X:1\nT:${path}\nK:C\nC|`): FoundFile => ({
  path,
  file: new File([text], path),
});

interface Sent {
  /** The version that a change builds on. */
  readonly on?: string;
  readonly path: string;
  readonly method: string;
  readonly body: { files?: { name: string; bytes: string }[]; doubles?: string; tune?: number };
}

let sent: Sent[] = [];
let sentArchive: Blob | null = null;
/** What the server answers next; missing: every file is in. */
let next: ((sent: Sent) => Response | Promise<Response>)[] = [];

const inBook = ({ body }: Sent) =>
  Response.json({
    lines: (body.files ?? []).map(({ name }) => lineOf(name)),
  });

const lineOf = (name: string, more: object = {}) => ({
  file: name,
  title: name,
  outcome: 'in',
  song: `id-${name}`,
  why: '',
  problems: [],
  double: null,
  ...more,
});

/** What a server says of an archive; without an end the connection broke. */
const rows = (...all: object[]) =>
  new Response(all.map((row) => `${JSON.stringify(row)}\n`).join(''), {
    headers: { 'content-type': 'application/x-ndjson' },
  });
const begin = (of: number) => ({ import: 'underway', of });
const line = (name: string, more: object = {}) => ({ line: lineOf(name, more) });

const refusal = (status: number, detail = 'No.') =>
  Response.json({ code: 'no', detail, title: 'No' }, { status });

beforeEach(() => {
  [sent, next] = [[], []];
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    sentArchive = init.body instanceof Blob ? init.body : sentArchive;
    const text = typeof init.body === 'string' ? init.body : '{}';
    const body = JSON.parse(text) as Sent['body'];
    const headers = init.headers as Readonly<Record<string, string>>;
    const on = headers['if-match'];
    const one = { path, method: init.method ?? 'GET', body, ...(on && { on }) };
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

  it('an archive goes alone to the library, as the file it is', async () => {
    const many = new ImportMany();
    const book = file('book.zip');
    next = [inBook, () => rows(begin(2), line('One'), line('Two'), { end: 'done' })];
    await many.take([file('a.abc'), book, file('c.abc')]);
    expect(sent.map(({ path }) => path)).toEqual([
      '/api/imports',
      '/api/library?doubles=leave&from=0',
      '/api/imports',
    ]);
    expect(sentArchive).toBe(book.file);
    expect(many.lines.map(({ title }) => title)).toEqual(['a.abc', 'One', 'Two', 'c.abc']);
    expect([many.state, many.done]).toEqual(['done', 3]);
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
    const one = (title: string, outcome: string) => ({
      file: 'two.abc',
      title,
      outcome,
      song: null,
      why: '',
      problems: [],
      double: { id: 'old', title, because: 'title' },
    });
    next = [
      () => Response.json({ lines: [one('One', 'left out'), one('Two', 'left out')] }),
      () => Response.json({ id: 'new' }, { status: 201 }),
    ];
    await many.take([file('two.abc'), file('notes.pdf')]);
    const second = many.lines.find(({ title }) => title === 'Two');
    expect(second && (await many.bring(second))).toBe(true);
    expect(sent.at(-1)).toMatchObject({ path: '/api/songs', body: { format: 'abc', tune: 1 } });
    expect(many.brought).toEqual(['new']);
  });
});

describe('An archive on its way in', () => {
  it('tells song by song how far it is', async () => {
    const many = new ImportMany();
    const seen: (number | null)[][] = [];
    let push: (row: object) => void = () => undefined;
    let close: () => void = () => undefined;
    const body = new ReadableStream<Uint8Array>({
      start: (controller) => {
        push = (row) => controller.enqueue(new TextEncoder().encode(`${JSON.stringify(row)}\n`));
        close = () => controller.close();
      },
    });
    next = [() => new Response(body)];
    const taking = many.take([file('book.zip')]);
    const look = async () => {
      await new Promise((done) => setTimeout(done, 220));
      seen.push([many.archive.done, many.archive.of]);
    };
    await look();
    push(begin(3));
    await look();
    push(line('One'));
    await look();
    for (const row of [line('Two'), line('Three'), { end: 'done' }]) push(row);
    close();
    await taking;
    expect(seen).toEqual([
      [0, null],
      [0, 3],
      [1, 3],
    ]);
    expect([many.lines.length, many.archive.name]).toEqual([3, null]);
  });

  it('is stopped by its name; the report has what is in, and the rest goes on from there', async () => {
    const many = new ImportMany();
    next = [() => rows(begin(5), line('One'), line('Two'), { end: 'stopped' })];
    await many.take([file('book.zip')]);
    expect([many.state, many.lines.length, many.waiting.length]).toEqual(['stopped', 2, 1]);
    next = [() => rows(begin(3), line('Three'), line('Four'), line('Five'), { end: 'done' })];
    await many.send();
    expect(sent.at(-1)?.path).toBe('/api/library?doubles=leave&from=2');
    expect(many.lines.map(({ title, index }) => [title, index])).toEqual([
      ['One', 0],
      ['Two', 1],
      ['Three', 2],
      ['Four', 3],
      ['Five', 4],
    ]);
    expect(many.state).toBe('done');
  });

  it('waits where the connection breaks off in the middle', async () => {
    const many = new ImportMany();
    next = [() => rows(begin(5), line('One'))];
    await many.take([file('book.zip')]);
    expect([many.state, many.trouble?.status, many.lines.length]).toEqual(['stopped', 0, 1]);
  });

  it('that is none is told as a file that could not be read', async () => {
    const many = new ImportMany();
    next = [() => refusal(422, 'This is no archive.')];
    await many.take([file('book.zip')]);
    expect(many.lines.map(({ outcome, why }) => [outcome, why])).toEqual([
      ['failed', 'This is no archive.'],
    ]);
    expect(many.state).toBe('done');
  });

  it('gives one song that was left out by its place, and takes it out again', async () => {
    const many = new ImportMany();
    const double = { id: 'old', title: 'Two', because: 'title' };
    const left = { outcome: 'left out', song: null, double };
    next = [() => rows(begin(2), line('One'), line('Two', left), { end: 'done' })];
    await many.take([file('book.zip')]);
    const two = many.lines[1];
    next = [() => rows(begin(1), line('Two', { double }), { end: 'done' })];
    expect(two && (await many.bring(two))).toBe(true);
    expect(sent.at(-1)?.path).toBe('/api/library?doubles=bring&from=1&most=1');
    expect(many.brought).toEqual(['id-One', 'id-Two']);
    await notices.undo();
    expect(sent.at(-1)).toMatchObject({
      path: '/api/songs/id-Two',
      method: 'DELETE',
      on: '"v2"',
    });
    expect(many.lines[1]).toEqual(two);
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
