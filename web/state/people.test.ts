import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Member } from '#server/contract/members.ts';
import { notices } from './notice.svelte.ts';
import { People } from './people.svelte.ts';

const ruth: Member = {
  id: 'ruth',
  name: 'Ruth',
  roles: ['lead voice'],
  level: 'beginner',
  levels: {},
  instruments: {},
  reach: 12,
  comfortable: null,
  limit: null,
  child: false,
  rangeMarkedAt: null,
  version: 3,
  deletedAt: null,
};
const tomas: Member = { ...ruth, id: 'tomas', name: 'Tomas' };

/** A server that lists everyone and, for a time, cannot save. */
function server() {
  let broken = true;
  const stored = new Map([ruth, tomas].map((member) => [member.id, member]));
  const versions: (string | null)[] = [];
  const changes: Partial<Member>[] = [];
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    await Promise.resolve();
    if (init.method === 'GET') return Response.json({ members: [...stored.values()] });
    if (broken) return Response.json({ code: 'internal', detail: 'It broke.' }, { status: 500 });
    versions.push(new Headers(init.headers).get('if-match'));
    const change = JSON.parse(init.body as string) as Partial<Member>;
    changes.push(change);
    const member = stored.get(path.endsWith('ruth') ? 'ruth' : 'tomas') ?? ruth;
    const saved = { ...member, ...change, version: member.version + 1 };
    stored.set(member.id, saved);
    return Response.json(saved);
  });
  return { mend: () => (broken = false), versions, changes };
}

afterEach(() => vi.unstubAllGlobals());

describe('The people of the team', () => {
  it('keep a change that could not be saved when the list is fetched anew, and save it later', async () => {
    const { mend, versions } = server();
    const people = new People();
    await people.load();
    people.change('ruth', { reach: 9 });
    await expect.poll(() => people.saverOf(ruth).state).toBe('kept');
    await people.load();
    const shown = () => people.list?.map(({ name, reach }) => [name, reach]);
    expect(shown()).toEqual([
      ['Ruth', 9],
      ['Tomas', 12],
    ]);
    expect(people.saverOf(ruth).state).toBe('kept');
    mend();
    await people.saverOf(ruth).retry();
    expect(versions).toEqual(['"v3"']);
    expect(people.saverOf(ruth).state).toBe('saved');
    expect(people.list?.[0]).toMatchObject({ reach: 9, version: 4 });
  });
});

describe('A range that is marked', () => {
  it('goes back with the day it had, and is of today when it is marked anew before that is sent', async () => {
    const sent = server();
    const people = new People();
    await people.load();
    const day = '2026-03-03T10:00:00.000Z';
    const [first, second] = [
      { low: 'A3', high: 'C5' },
      { low: 'G3', high: 'C5' },
    ];
    people.list = [{ ...ruth, comfortable: first, rangeMarkedAt: day }, tomas];
    sent.mend();
    people.mark('ruth', 'comfortable', second);
    await expect.poll(() => people.saverOf(ruth).state).toBe('saved');
    await notices.undo();
    await expect
      .poll(() => sent.changes.at(-1))
      .toEqual({ comfortable: first, rangeMarkedAt: day });
    await expect.poll(() => people.saverOf(ruth).state).toBe('saved');
    people.mark('ruth', 'comfortable', second);
    await expect.poll(() => people.saverOf(ruth).state).toBe('saved');
    const going = notices.undo();
    people.mark('ruth', 'comfortable', { low: 'F3', high: 'C5' });
    await going;
    await expect.poll(() => people.saverOf(ruth).state).toBe('saved');
    expect(sent.changes.at(-1)).toEqual({ comfortable: { low: 'F3', high: 'C5' } });
  });
});

describe('A range that was found as a child’s', () => {
  it('makes its singer private, and one step back takes both away', async () => {
    const sent = server();
    sent.mend();
    const people = new People();
    await people.load();
    people.markChild('ruth', { low: 'D4', high: 'A4' });
    await expect.poll(() => people.saverOf(ruth).state).toBe('saved');
    expect(sent.changes).toEqual([{ comfortable: { low: 'D4', high: 'A4' }, child: true }]);
    expect(notices.current?.words).toMatch(/stay with this team/);
    await notices.undo();
    expect(people.list?.[0]).toMatchObject({ comfortable: null, child: false });
  });
});

describe('The furthest notes enclose what sits easily', () => {
  const easy = { low: 'A3', high: 'C5' };
  const furthest = { low: 'F3', high: 'E5' };

  async function team() {
    const sent = server();
    sent.mend();
    const people = new People();
    await people.load();
    const of = () => {
      const { comfortable, limit } = people.list?.find(({ id }) => id === 'ruth') ?? ruth;
      return { comfortable, limit };
    };
    const saved = () => expect.poll(() => people.saverOf(ruth).state).toBe('saved');
    return { people, of, saved, sent: sent.changes };
  }

  it('are marked where they do, the same notes too, and taken back by undo', async () => {
    const { people, of, saved } = await team();
    people.mark('ruth', 'comfortable', easy);
    people.mark('ruth', 'limit', easy);
    people.mark('ruth', 'limit', furthest);
    expect(of()).toEqual({ comfortable: easy, limit: furthest });
    expect(notices.current?.words).toBe('The furthest notes of Ruth are marked, F3 to E5.');
    await notices.undo();
    expect(of()).toEqual({ comfortable: easy, limit: easy });
    await saved();
  });

  it.each([
    { low: 'Bb3', high: 'E5', said: 'B♭3 to E5' },
    { low: 'F3', high: 'B4', said: 'F3 to B4' },
  ])('are refused at $low to $high, and nothing is sent', async ({ said, ...range }) => {
    const { people, of, saved, sent } = await team();
    people.mark('ruth', 'comfortable', easy);
    await saved();
    const before = sent.length;
    people.mark('ruth', 'limit', range);
    expect(of()).toEqual({ comfortable: easy, limit: null });
    expect(sent).toHaveLength(before);
    expect(notices.current).toMatchObject({
      words: `The furthest notes, ${said}, do not enclose what sits easily for Ruth, A3 to C5. Nothing was changed.`,
      undo: null,
    });
  });

  it('grow in the same change with an easy range that goes beyond them, and go back with it', async () => {
    const { people, of, saved, sent } = await team();
    people.mark('ruth', 'comfortable', easy);
    people.mark('ruth', 'limit', furthest);
    await saved();
    people.mark('ruth', 'comfortable', { low: 'E3', high: 'D5' });
    const wide = { comfortable: { low: 'E3', high: 'D5' }, limit: { low: 'E3', high: 'E5' } };
    expect(of()).toEqual(wide);
    expect(notices.current?.words).toBe(
      'The range of Ruth is marked, E3 to D5; the furthest notes went from F3–E5 to E3–E5, since they enclose it.',
    );
    await saved();
    expect(sent.at(-1)).toEqual(wide);
    await notices.undo();
    expect(of()).toEqual({ comfortable: easy, limit: furthest });
    await saved();
  });

  it('stay as they are where the easy range stays within them, however its notes are spelled', async () => {
    const { people, of, saved } = await team();
    people.mark('ruth', 'limit', { low: 'F#3', high: 'E5' });
    people.mark('ruth', 'comfortable', { low: 'Gb3', high: 'E5' });
    expect(of().limit).toEqual({ low: 'F#3', high: 'E5' });
    expect(notices.current?.words).toBe('The range of Ruth is marked.');
    await saved();
  });
});
