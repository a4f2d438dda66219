import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { SetPerson, SetView } from '#server/contract/set.ts';
import { notices } from './notice.svelte.ts';
import { OpenSet } from './set.svelte.ts';

const ruth: SetPerson = {
  id: 'ruth',
  name: 'Ruth',
  roles: ['lead voice'],
  marks: true,
  comfortable: { low: 'A3', high: 'C5' },
  rangeMarkedAt: '2026-03-03T10:00:00.000Z',
  voiceThisWeek: false,
};
const view: SetView = {
  team: 'Saltmarsh',
  title: 'Morning service',
  date: '2026-11-29',
  time: '10:30',
  zone: 'Europe/Berlin',
  place: '',
  startsAt: '2026-11-29T09:30:00Z',
  endsAt: '2026-11-30T22:59:59Z',
  items: [],
  people: [ruth, { ...ruth, id: 'joel', name: 'Joel', roles: ['keys'], marks: false }],
};

/** What was asked, and where the address bar stood then. */
let asked: { what: string; body: unknown; bar: string }[] = [];
let answers: Record<string, () => Response> = {};

beforeEach(() => {
  localStorage.clear();
  asked = [];
  answers = { 'GET /api/set/abc': () => Response.json(view) };
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    await Promise.resolve();
    const what = `${init.method ?? ''} ${path}`;
    const body: unknown = init.body ? JSON.parse(init.body as string) : null;
    asked.push({ what, body, bar: location.pathname + location.hash });
    return answers[what]?.() ?? new Response(null, { status: 204 });
  });
});
afterEach(() => vi.unstubAllGlobals());

async function openAt(address: string) {
  history.replaceState({}, '', address);
  // As when the address is typed over in a tab that is open; a new tab takes the secret while it loads.
  dispatchEvent(new Event('hashchange'));
  const set = new OpenSet('abc');
  await set.open();
  return set;
}

const refusal = (status: number, code: string) => () =>
  Response.json({ code, detail: 'As the server says it.' }, { status });

describe('A set link', () => {
  it('takes its secret out of the address bar before anything is asked, and trades it for a cookie', async () => {
    const set = await openAt('/s/abc#the-secret');
    expect(asked).toEqual([
      { what: 'POST /api/set/abc/session', body: { secret: 'the-secret' }, bar: '/s/abc' },
      { what: 'GET /api/set/abc', body: null, bar: '/s/abc' },
    ]);
    expect(set.view?.title).toBe('Morning service');
  });

  it('opens again by the cookie where the address has no fragment', async () => {
    const set = await openAt('/s/abc');
    expect(asked.map(({ what }) => what)).toEqual(['GET /api/set/abc']);
    expect(set.view?.team).toBe('Saltmarsh');
  });

  it('takes the secret of no other address', async () => {
    await openAt('/songs#the-secret');
    expect(location.hash).toBe('#the-secret');
    expect(asked.map(({ what }) => what)).toEqual(['GET /api/set/abc']);
  });

  it.each([
    [404, 'wrong-link', 'This link does not open', /send it once more/],
    [410, 'link-ended', 'This link has ended', /next service/],
    [410, 'link-revoked', 'This link was taken back', /new link/],
    [429, 'too-many-attempts', 'Too many tries', /Wait a minute/],
    [500, 'internal', 'The link does not open just now', /As the server says it/],
  ])('answered %i %s says “%s” and what to do', async (status, code, title, words) => {
    answers['POST /api/set/abc/session'] = refusal(status, code);
    const set = await openAt('/s/abc#wrong');
    expect(set.shut?.title).toBe(title);
    expect(set.shut?.words).toMatch(words);
    expect(set.view).toBeNull();
  });

  it('shows what is on the screen on, where only the network is missing', async () => {
    const set = await openAt('/s/abc');
    answers['GET /api/set/abc'] = () => {
      throw new TypeError('no network');
    };
    await set.open();
    expect([set.view?.title, set.shut?.title]).toEqual(['Morning service', 'No answer']);
  });

  it('remembers on this device who was chosen, and offers them first', async () => {
    const set = await openAt('/s/abc');
    expect([set.me, set.others.length]).toEqual([null, 2]);
    set.choose('joel');
    const again = await openAt('/s/abc');
    expect([again.me?.name, again.others.map(({ name }) => name)]).toEqual(['Joel', ['Ruth']]);
  });
});

describe('A comfortable range marked by link', () => {
  it('is shown at once, kept, thanked for, and can be taken back', async () => {
    const path = 'PUT /api/set/abc/people/ruth/range';
    answers[path] = () => {
      const { comfortable } = asked.at(-1)?.body as Pick<SetPerson, 'comfortable'>;
      return Response.json({ ...ruth, comfortable });
    };
    const set = await openAt('/s/abc');
    const saving = set.mark(ruth, { low: 'G3', high: 'D5' });
    expect(set.rangeOf(ruth)).toEqual({ low: 'G3', high: 'D5' });
    await saving;
    expect(set.view?.people[0]?.comfortable).toEqual({ low: 'G3', high: 'D5' });
    expect(set.thanked).toBe('ruth');
    await notices.undo();
    expect(set.view?.people[0]?.comfortable).toEqual({ low: 'A3', high: 'C5' });
    // The earlier range comes back with its day.
    expect(asked.at(-1)?.body).toEqual({
      comfortable: { low: 'A3', high: 'C5' },
      rangeMarkedAt: '2026-03-03T10:00:00.000Z',
    });
  });

  it('can be taken back where it was the first, without thanks, and marked again by the undo', async () => {
    const nobodyKnew = { ...ruth, comfortable: null };
    answers['PUT /api/set/abc/people/ruth/range'] = () => {
      const { comfortable } = asked.at(-1)?.body as Pick<SetPerson, 'comfortable'>;
      return Response.json({ ...ruth, comfortable });
    };
    const set = await openAt('/s/abc');
    await set.mark(nobodyKnew, { low: 'G3', high: 'D5' });
    await notices.undo();
    expect(asked.at(-1)?.body).toEqual({ comfortable: null });
    expect([set.view?.people[0]?.comfortable, set.thanked]).toEqual([null, null]);
    expect(notices.current?.words).toBe('The range of Ruth is taken back.');
    await notices.undo();
    expect(set.view?.people[0]?.comfortable).toEqual({ low: 'G3', high: 'D5' });
  });

  it('without a network says that it is not sent yet, and goes by itself when the network is back', async () => {
    const path = 'PUT /api/set/abc/people/ruth/range';
    answers[path] = () => {
      throw new TypeError('no network');
    };
    const set = await openAt('/s/abc');
    notices.dismiss();
    await set.mark(ruth, { low: 'G3', high: 'D5' });
    expect([set.unsent?.id, notices.current, set.thanked]).toEqual(['ruth', null, null]);
    expect(set.rangeOf(ruth)).toEqual({ low: 'G3', high: 'D5' });
    answers[path] = () => Response.json({ ...ruth, comfortable: { low: 'G3', high: 'D5' } });
    await set.sendAgain();
    expect([set.unsent, set.thanked]).toEqual([null, 'ruth']);
  });
});

describe('Forgetting a link on a device', () => {
  it('says that it was meant, and how to come back', async () => {
    const set = await openAt('/s/abc');
    await set.forget();
    expect([set.view, set.shut?.title]).toEqual([null, 'Forgotten on this device']);
    expect(set.shut?.words).toContain('open the link from the message again');
  });

  it('keeps everything where the server did not hear of it', async () => {
    const set = await openAt('/s/abc');
    answers['DELETE /api/set/abc/session'] = () => {
      throw new TypeError('no network');
    };
    await set.forget();
    expect(set.view?.title).toBe('Morning service');
    expect(notices.current?.words).toMatch(/^Not forgotten yet/);
  });
});
