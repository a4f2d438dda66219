import { beforeEach, describe, expect, it, vi } from 'vitest';
import { notices } from './notice.svelte.ts';
import { addressOf, DraftsLeft, sayDraft } from './drafts-left.svelte.ts';
import {
  DraftSlot,
  forgetSaved,
  newDraftName,
  unsavedDrafts,
  type EditDraft,
} from './edit-draft.ts';
import { kept, NOTHING_DONE } from './edit-history.ts';
import { QUARTER_NOTE } from './edit-length.ts';
import { blankSong } from './edit-words.ts';

/** The browser's database, as far as drafts need it: a place for each key. */
const database = vi.hoisted(() => new Map<string, unknown>());
/** What was put and not yet told to be kept. */
let waiting: [string, unknown];
vi.mock('idb-keyval', () => ({
  createStore: () => (_mode: string, work: (store: object) => unknown) =>
    work({
      put: (value: unknown, key: string) => (waiting = [key, value]),
      transaction: { commit: () => database.set(...waiting) },
    }),
  promisifyRequest: () => Promise.resolve(),
  get: (key: string) => Promise.resolve(database.get(key)),
  del: (key: string) => Promise.resolve(void database.delete(key)),
  entries: () => Promise.resolve([...database]),
}));

/** Names that some tab holds, as the Web Locks API gives them out (W3C Web Locks API, 3.3). */
const held = new Set<string>();
const locks = {
  async request(name: string, _: object, work: (lock: object | null) => Promise<void> | undefined) {
    if (held.has(name)) return work(null);
    held.add(name);
    await work({});
    // It is given back a moment after it was let go.
    await new Promise((later) => setTimeout(later, 1));
    held.delete(name);
  },
  query: () => Promise.resolve({ held: [...held].map((name) => ({ name })) }),
};

const OLD = Date.parse('2026-11-22T17:30:00');

function draft(title: string, rest: Partial<EditDraft> = {}): EditDraft {
  const blank = blankSong();
  const score = { ...blank, facts: { ...blank.facts, title } };
  return {
    score,
    version: 1,
    saved: false,
    history: kept(NOTHING_DONE, score),
    hand: { voice: 'melody', at: 0, length: QUARTER_NOTE },
    typed: {},
    written: OLD,
    ...rest,
  };
}

/** What a tab leaves behind. */
async function leave(song: string, what: EditDraft): Promise<void> {
  const slot = await DraftSlot.free(song);
  await slot.write(what);
  await slot.release();
}

beforeEach(() => {
  database.clear();
  held.clear();
  vi.stubGlobal('navigator', { locks, onLine: true });
  vi.stubGlobal('fetch', () => Promise.reject(new TypeError('no network')));
});

describe('Drafts on a device that others use too', () => {
  it('go when someone signs out, but for what is not saved, or typed and not in the song', async () => {
    await leave('saved', draft('Saved', { saved: true }));
    await leave('unsaved', draft('Unsaved'));
    await leave('typed', draft('Typed', { saved: true, typed: { 'words verse 1': 'A-ma' } }));
    await forgetSaved();
    expect([...database.keys()].sort()).toEqual(['typed/1', 'unsaved/1']);
  });

  it('are told of, the latest first, but for those that a tab has open', async () => {
    await leave('one', draft('One', { written: 1 }));
    await leave('two', draft('Two', { written: 2 }));
    await leave('new', draft('', { written: 3 }));
    await leave('saved', draft('Saved', { saved: true }));
    const { slot } = await DraftSlot.open('two');
    expect((await unsavedDrafts()).map(({ song }) => song)).toEqual([null, 'one']);
    await slot.release();
    expect((await unsavedDrafts()).map(({ song }) => song)).toEqual([null, 'two', 'one']);
  });

  it('are said with what and when, and lead to where they are taken up', async () => {
    await leave('lamp', draft('Lamp'));
    await leave('new', draft('', { written: OLD - 1 }));
    const [lamp, fresh] = await unsavedDrafts();
    if (!lamp || !fresh) throw new Error('two were left');
    expect(sayDraft(lamp)).toBe('An unsaved draft of “Lamp” from Sunday, 22 November 2026, 17:30 is kept on this device.'); // prettier-ignore
    expect(sayDraft(fresh)).toContain('of a new song, “Without a title”,');
    expect([addressOf(lamp), addressOf(fresh)]).toEqual(['/songs/lamp/edit', '/songs/write']);
  });

  it('are thrown away with an undo, which puts them back whole', async () => {
    await leave('lamp', draft('Lamp'));
    const before = structuredClone(database.get('lamp/1'));
    const left = new DraftsLeft();
    await left.load();
    const [lamp] = left.list;
    if (!lamp) throw new Error('one was left');
    await left.throwAway(lamp);
    expect([left.list, database.size]).toEqual([[], 0]);
    expect(notices.current?.words).toContain('“Lamp” is thrown away');
    await notices.undo();
    expect(left.list).toHaveLength(1);
    expect(database.get('lamp/1')).toEqual(before);
    left.leave();
  });

  it('are not told of while they may be on their way to the server', async () => {
    await leave('lamp', draft('Lamp', { written: Date.now() }));
    const left = new DraftsLeft();
    await left.load();
    expect(left.list).toEqual([]);
    left.leave();
  });
});

describe('A draft that the server has after all', () => {
  it('is not told of, though its tab was closed before it heard so', async () => {
    const there = draft('Lamp');
    await leave('lamp', there);
    await leave('other', draft('Other'));
    vi.stubGlobal('fetch', () => Promise.resolve(Response.json({ id: 'lamp', version: 2, score: there.score }))); // prettier-ignore
    const left = new DraftsLeft();
    await left.load();
    expect(left.list.map(({ song }) => song)).toEqual(['other']);
    left.leave();
  });
});

describe('A step that is kept', () => {
  it('is with the browser before the next key, and waits for no answer', async () => {
    const { slot } = await DraftSlot.open('lamp');
    void slot.write(draft('One'));
    expect(database.get('lamp/1')).toMatchObject({ score: { facts: { title: 'One' } } });
    void slot.write(draft('Two'));
    expect(database.get('lamp/1')).toMatchObject({ score: { facts: { title: 'Two' } } });
    await slot.release();
  });
});

describe('The place of a draft', () => {
  it('with something unsaved is taken up before one that is saved', async () => {
    await leave('lamp', draft('Saved', { saved: true }));
    await leave('lamp', draft('Unsaved'));
    const { slot, draft: taken } = await DraftSlot.open('lamp');
    expect(taken?.score.facts.title).toBe('Unsaved');
    await slot.release();
  });

  it('is another one for each tab', async () => {
    await leave('lamp', draft('Lamp'));
    const first = await DraftSlot.open('lamp');
    const second = await DraftSlot.open('lamp');
    expect([first.draft?.score.facts.title, second.draft]).toEqual(['Lamp', null]);
    await second.slot.write(draft('Other'));
    expect([...database.keys()].sort()).toEqual(['lamp/1', 'lamp/2']);
  });
});

describe('The name under which a new song is sent', () => {
  it('is one that the server takes, and never the same', () => {
    const names = Array.from({ length: 50 }, newDraftName);
    expect(names.every((name) => /^[0-9a-f]{32}$/.test(name))).toBe(true);
    expect(new Set(names).size).toBe(50);
  });
});
