import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { askKept, onFromDevice } from './ask-kept.ts';
import { ask } from './http.ts';
import { findKept, forgetLeaders, forgetLink } from './kept.ts';

/** The Cache interface of the Service Workers specification, as far as it is used here. */
class FakeCache {
  readonly #kept = new Map<string, Response>();
  readonly #path = (url: string): string => url.split('?')[0] ?? '';

  match(url: string, { ignoreSearch = false } = {}): Promise<Response | undefined> {
    const same = (each: string) =>
      ignoreSearch ? this.#path(each) === this.#path(url) : each === url;
    const key = [...this.#kept.keys()].find(same);
    return Promise.resolve(key === undefined ? undefined : this.#kept.get(key)?.clone());
  }
  put(url: string, response: Response): Promise<void> {
    this.#kept.set(url, response);
    return Promise.resolve();
  }
  delete(request: string | { url: string }, { ignoreSearch = false } = {}): Promise<boolean> {
    const url = typeof request === 'string' ? request : request.url;
    for (const each of [...this.#kept.keys()]) {
      const same = ignoreSearch ? this.#path(each) === this.#path(url) : each === url;
      if (same) this.#kept.delete(each);
    }
    return Promise.resolve(true);
  }
  keys(): Promise<{ url: string }[]> {
    return Promise.resolve([...this.#kept.keys()].map((url) => ({ url })));
  }
}

type Server = (path: string) => Response | Promise<Response> | null;
let server: Server = () => null;
let cache: FakeCache;
let told: [path: string, came: number | null][] = [];

const json = (value: object, status = 200) =>
  new Response(JSON.stringify(value), { status, headers: { etag: '"v7"' } });
const held = async () =>
  (await cache.keys()).map(({ url }) => new URL(url).pathname.replace('/api', '')).sort();
const settled = () => new Promise((done) => setTimeout(done, 0));
/** Asked with a network, so that it is kept. */
async function kept(...paths: string[]): Promise<void> {
  server = () => json({ from: 'server' });
  for (const path of paths) await askKept(path);
  await settled();
}
const fromOf = async (path: string, options = {}) => {
  const answer = await askKept<{ from: string }>(path, options);
  return answer.ok ? answer.value.from : answer.trouble.code;
};

beforeEach(() => {
  cache = new FakeCache();
  told = [];
  vi.stubGlobal('caches', { open: () => Promise.resolve(cache) });
  vi.stubGlobal('fetch', async (url: string) => {
    const answer = await server(url.replace('/api', ''));
    if (!answer) throw new TypeError('no network');
    return answer;
  });
  onFromDevice((path, came) => told.push([path, came]));
});
afterEach(() => vi.useRealTimers());

const LINK = ['/set/abc', '/set/abc/pages/x?width=390', '/set/abc/pages/x/parts'];

describe('What this device keeps of answers', () => {
  it('is given where no answer comes, with its version and from when it is', async () => {
    await kept('/services/s');
    server = () => null;
    const answer = await askKept('/services/s');
    expect(answer).toMatchObject({ ok: true, value: { from: 'server' }, version: 7 });
    expect(told.map(([path, came]) => [path, came === null])).toEqual([
      ['/services/s', true],
      ['/services/s', false],
    ]);
    expect(await fromOf('/services/other')).toBe('offline');
  });

  it('is one answer for each path: that of the last question', async () => {
    await kept('/set/abc/pages/x?width=390', '/set/abc/pages/x?width=820');
    server = () => null;
    expect(await fromOf('/set/abc/pages/x?width=390')).toBe('offline');
    expect(await fromOf('/set/abc/pages/x?width=390', { match: 'same path' })).toBe('server');
  });

  it.each([
    [410, 'link-revoked', '/set/abc/pages/x', ['/services/s']],
    [404, 'wrong-link', '/set/abc', ['/services/s']],
    [
      404,
      'no-such-person',
      '/set/abc/pages/x/parts',
      ['/services/s', '/set/abc', '/set/abc/pages/x'],
    ],
    [401, 'not-signed-in', '/songs/a', ['/set/abc', '/set/abc/pages/x', '/set/abc/pages/x/parts']],
    [
      403,
      'only-this-machine',
      '/songs/a',
      ['/set/abc', '/set/abc/pages/x', '/set/abc/pages/x/parts'],
    ],
    [
      404,
      'no-such-service',
      '/services/s',
      ['/set/abc', '/set/abc/pages/x', '/set/abc/pages/x/parts'],
    ],
    [
      500,
      'internal-error',
      '/songs/a',
      ['/services/s', '/set/abc', '/set/abc/pages/x', '/set/abc/pages/x/parts'],
    ],
  ])('after %i %s of %s is what another right opened', async (status, code, path, rest) => {
    await kept(...LINK, '/services/s');
    server = () => json({ code }, status);
    expect(await fromOf(path)).toBe(code);
    expect(await held()).toEqual(rest);
  });

  it('goes with the link that is forgotten, and with the session that is ended', async () => {
    await kept(...LINK, '/set/abcd', '/services', '/songs/a');
    await forgetLink('abc');
    expect(await held()).toEqual(['/services', '/set/abcd', '/songs/a']);
    await forgetLeaders();
    expect(await held()).toEqual(['/set/abcd']);
  });

  it('is not what was on its way when it was forgotten', async () => {
    let answer: (response: Response) => void = () => undefined;
    server = () => new Promise((done) => (answer = done));
    const asking = askKept('/set/abc');
    await settled();
    await forgetLink('abc');
    answer(json({ from: 'server' }));
    expect(await asking).toMatchObject({ ok: true });
    await settled();
    expect(await held()).toEqual([]);
  });

  it('is not what was changed here since, nor the list that it stands in', async () => {
    await kept('/songs', '/songs/a', '/songs/a/arrangement', '/songs/b', '/set/abc');
    await ask('/songs/a/score', { method: 'PUT', body: {} });
    await settled();
    expect(await held()).toEqual(['/set/abc', '/songs/b']);
  });

  it('ends with its link, and after 30 days', async () => {
    server = () => json({ from: 'server', endsAt: '2026-11-30T22:59:00Z' });
    vi.useFakeTimers({ now: Date.parse('2026-11-29T10:00:00Z'), toFake: ['Date'] });
    for (const path of LINK) await askKept(path);
    await kept('/songs/a');
    server = () => null;
    expect(await fromOf(LINK[2] ?? '')).toBe('server');
    vi.setSystemTime(Date.parse('2026-11-30T23:00:00Z'));
    expect(await findKept(LINK[2] ?? '', 'exact')).toBeNull();
    expect(await held()).toEqual(['/songs/a']);
    vi.setSystemTime(Date.parse('2026-12-29T10:00:01Z'));
    expect(await fromOf('/songs/a')).toBe('offline');
  });

  it('is given after three seconds where the network is slow, and taken back when a refusal comes late', async () => {
    await kept('/set/abc');
    vi.useFakeTimers({ toFake: ['setTimeout'] });
    let answer: (response: Response) => void = () => undefined;
    server = () => new Promise((done) => (answer = done));
    const late: string[] = [];
    const asking = askKept<{ from: string }>('/set/abc', {
      soon: true,
      onlate: ({ code }) => late.push(code),
    });
    await vi.advanceTimersByTimeAsync(2999);
    expect(told.some(([, came]) => came !== null)).toBe(false);
    await vi.advanceTimersByTimeAsync(1);
    expect(await asking).toMatchObject({ ok: true, value: { from: 'server' } });
    answer(json({ code: 'link-revoked' }, 410));
    await vi.advanceTimersByTimeAsync(1);
    expect(late).toEqual(['link-revoked']);
    expect(await held()).toEqual([]);
  });

  it('is nothing where a page is not secure: then only the network answers', async () => {
    vi.stubGlobal('caches', undefined);
    await kept('/set/abc');
    server = () => null;
    expect(await fromOf('/set/abc')).toBe('offline');
  });
});
