import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { SetLink } from '#server/contract/links.ts';
import { notices } from './notice.svelte.ts';
import { isOwnName, originFor, Sharing } from './sharing.svelte.ts';

const LINK: SetLink = {
  id: 'one',
  service: 'x',
  state: 'open',
  marksRanges: true,
  endsAt: '2026-12-01T00:00:00.000Z',
  createdAt: '2026-11-25T10:00:00.000Z',
  version: 1,
};

/** Links as the server keeps them; the secret is said once. */
class Server {
  links: SetLink[] = [];
  origins = ['http://192.168.1.20:3000'];
  asked: unknown[] = [];

  fetch = async (path: string, init: RequestInit): Promise<Response> => {
    await Promise.resolve();
    if (path === '/api/addresses') return Response.json({ origins: this.origins });
    const body: unknown = init.body ? JSON.parse(init.body as string) : null;
    if (body) this.asked.push(body);
    if (init.method === 'POST') {
      const link = { ...LINK, ...(body as object) };
      this.links.push(link);
      return Response.json({ link, secret: 's3cret', path: '/s/one#s3cret' });
    }
    if (init.method !== 'PATCH') return Response.json({ links: this.links });
    const { revoked, ...change } = body as { revoked?: boolean };
    const [link = LINK] = this.links;
    if (new Headers(init.headers).get('if-match') !== `"v${link.version}"`)
      return Response.json({ code: 'stale-version', detail: 'Stale.' }, { status: 412 });
    const state = revoked === undefined ? link.state : revoked ? 'revoked' : 'open';
    this.links = [{ ...link, ...change, state, version: link.version + 1 }];
    return Response.json(this.links[0]);
  };
}

let server: Server;
let sharing: Sharing;
beforeEach(async () => {
  server = new Server();
  vi.stubGlobal('fetch', server.fetch);
  sharing = new Sharing('x');
  await sharing.load();
});
afterEach(() => {
  notices.dismiss();
  vi.unstubAllGlobals();
});

describe('The address of a set link', () => {
  it.each([
    ['localhost', true],
    ['127.0.0.1', true],
    ['127.12.0.9', true],
    ['[::1]', true],
    ['partbook.localhost', true],
    ['192.168.1.20', false],
    ['piano.local', false],
    ['127.example.org', false],
  ])('%s is a name of this machine alone: %s', (hostname, own) => {
    expect(isOwnName(hostname)).toBe(own);
  });

  it.each([
    ['that of the page where others reach it', 'piano.local', 'http://piano.local', true],
    ['the server’s likeliest where the page is open here', 'localhost', 'http://10.0.0.5', true],
  ])('is %s', (_, hostname, origin, reaches) => {
    const here = { hostname, origin: `http://${hostname}` };
    expect(originFor(here, ['http://10.0.0.5', 'http://10.9.9.9'])).toEqual({ origin, reaches });
  });

  it('says where only this machine can open it', () => {
    const here = { hostname: '127.0.0.1', origin: 'http://127.0.0.1:3000' };
    expect(originFor(here, [])).toEqual({ origin: here.origin, reaches: false });
  });
});

describe('A set link', () => {
  it('is made and shown whole, as long as the page is open', async () => {
    sharing.marksRanges = false;
    await sharing.make();
    expect(server.asked).toEqual([{ marksRanges: false }]);
    expect(sharing.made?.address).toMatch(/^http:\/\/.+\/s\/one#s3cret$/);
    const again = new Sharing('x');
    await again.load();
    expect(again.links).toHaveLength(1);
    expect(again.made).toBeNull();
  });

  it('is taken back, shown no more, and opened again by Undo', async () => {
    await sharing.make();
    const [link = LINK] = sharing.links ?? [];
    await sharing.revoke(link);
    expect(sharing.links?.[0]?.state).toBe('revoked');
    expect(sharing.made).toBeNull();
    await notices.undo();
    expect(sharing.links?.[0]?.state).toBe('open');
    expect(sharing.made).not.toBeNull();
  });

  it('that has ended is open for a week from today', async () => {
    vi.setSystemTime('2026-12-20T08:00:00Z');
    try {
      await sharing.make();
      await sharing.longer(sharing.links?.[0] ?? LINK);
      expect(sharing.links?.[0]?.endsAt).toBe('2026-12-27T00:00:00.000Z');
    } finally {
      vi.useRealTimers();
    }
  });

  it('is open a week longer', async () => {
    await sharing.make();
    await sharing.longer(sharing.links?.[0] ?? LINK);
    expect(sharing.links?.[0]?.endsAt).toBe('2026-12-08T00:00:00.000Z');
  });
});
