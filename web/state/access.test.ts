import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { access } from './access.svelte.ts';
import { Services } from './services.svelte.ts';
import { TeamState } from './team.svelte.ts';

const TEAM = { id: 't', name: 'Hill', demo: 'offered', version: 1 };
let open: boolean;
let code: string;

beforeEach(() => {
  open = false;
  code = 'not-signed-in';
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    await Promise.resolve();
    if (path === '/api/access/session') {
      const { passphrase } = JSON.parse(init.body as string) as { passphrase: string };
      open = passphrase === 'the hill is green in spring';
      const wrong = { code: 'wrong-passphrase', detail: 'That is not the passphrase.' };
      return open ? new Response(null, { status: 204 }) : Response.json(wrong, { status: 403 });
    }
    if (path === '/api/access')
      return Response.json({ passphrase: code === 'not-signed-in', may: open, here: true });
    if (!open) {
      const status = code === 'not-signed-in' ? 401 : 403;
      return Response.json({ code, detail: 'Shut.' }, { status });
    }
    if (init.method === 'PATCH') {
      const change = JSON.parse(init.body as string) as object;
      return Response.json({ ...TEAM, ...change, version: 2 });
    }
    return Response.json(path === '/api/team' ? TEAM : { services: [] });
  });
});
afterEach(() => {
  access.shut = null;
  vi.unstubAllGlobals();
});

describe('The leader’s side', () => {
  it('shows its door at the first answer that is refused, and lets in by the passphrase', async () => {
    await new Services('2026-11-25').load();
    expect(access.asks).toBe(true);
    const before = access.entered;
    access.passphrase = 'wrong';
    await access.signIn();
    expect([access.trouble?.code, access.shut !== null]).toEqual(['wrong-passphrase', true]);
    access.passphrase = 'the hill is green in spring';
    await access.signIn();
    expect([access.shut, access.passphrase]).toEqual([null, '']);
    // Nothing waited to be saved: the page begins anew.
    expect(access.entered).toBe(before + 1);
  });

  it('keeps what was changed while the session ended, and saves it once inside', async () => {
    open = true;
    const team = new TeamState();
    await team.load();
    open = false;
    team.rename('Valley');
    await expect.poll(() => team.saver?.state).toBe('kept');
    const before = access.entered;
    access.passphrase = 'the hill is green in spring';
    await access.signIn();
    await expect.poll(() => team.team).toMatchObject({ name: 'Valley', version: 2 });
    expect(access.entered).toBe(before);
  });

  it('says on another machine that it is open only here, and asks no passphrase', async () => {
    code = 'only-this-machine';
    await new Services('2026-11-25').load();
    expect([access.asks, access.shut?.message]).toEqual([false, 'Shut.']);
    open = true;
    await access.knock();
    expect(access.shut).toBeNull();
  });
});

describe('The example a team begins with', () => {
  it('is cleared in one step, and comes back by Undo', async () => {
    open = true;
    const team = new TeamState();
    await team.load();
    let told = 0;
    await team.decide('cleared', () => (told += 1));
    expect([team.team?.demo, told]).toEqual(['cleared', 1]);
    const { notices } = await import('./notice.svelte.ts');
    await notices.undo();
    expect([team.team?.demo, told]).toEqual(['offered', 2]);
  });
});
