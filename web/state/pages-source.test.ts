import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { EngraveRequest } from '#music';
import type { Trouble } from '#web/api/http.ts';
import type { PagesWish } from '#web/api/pages.ts';
import { PagesSource, type DeviceEngraver } from './pages-source.ts';

const WISH: PagesWish = {
  width: 1180,
  text: 1,
  verse: null,
  names: 'english',
  played: null,
};
const PAGES = { service: {}, person: {}, reads: {}, pages: [{ kind: 'none', title: 'served' }] };
const PARTS = { service: {}, person: {}, reads: {}, pages: [{ kind: 'none', title: 'here' }] };
const GONE = { code: 'link-revoked', detail: 'It was taken back.' };

let asked: string[] = [];
/** What the server answers; null: there is no network. */
let answers: (url: string) => Response | null = () => null;

const json = (value: object, status = 200) => new Response(JSON.stringify(value), { status });
const served = (url: string) => json(url.includes('/parts') ? PARTS : PAGES);

beforeEach(() => {
  asked = [];
  answers = served;
  vi.stubGlobal('fetch', (url: string) => {
    asked.push(url.replace(/\?.*/, ''));
    const answer = answers(url);
    return answer ? Promise.resolve(answer) : Promise.reject(new TypeError('no network'));
  });
});

class FakeEngraver implements DeviceEngraver {
  isReady = true;
  isWanted = true;
  readonly engrave = (_: EngraveRequest) => Promise.resolve({ glyphs: '', systems: [] });
  startNow = vi.fn();
  /** At rest is when it is told so. */
  rest: () => void = () => undefined;
  start(also: () => void = () => undefined): void {
    this.rest = also;
  }
}

function sourced(engraver: DeviceEngraver | null = new FakeEngraver()) {
  const refused: Trouble[] = [];
  const shown = { open: 0, onopen: () => undefined, refuse: (why: Trouble) => refused.push(why) };
  const source = new PagesSource({ link: 'abc' }, 'x', engraver, shown);
  const find = async (wish: Partial<PagesWish> = {}) => {
    const answer = await source.find({ ...WISH, ...wish }, new AbortController().signal);
    return answer.ok ? answer.value.pages[0]?.title : answer.trouble.code;
  };
  return { source, find, refused };
}

const PAGES_AT = '/api/set/abc/pages/x';
const settled = () => new Promise((done) => setTimeout(done, 0));

describe('Where a person’s pages come from', () => {
  it('is the server first, and the device from then on, for any width, size and verse', async () => {
    const engraver = new FakeEngraver();
    const { find } = sourced(engraver);
    expect(await find()).toBe('served');
    expect(asked).toEqual([PAGES_AT]);
    engraver.rest();
    await settled();
    expect(asked).toEqual([PAGES_AT, `${PAGES_AT}/parts`]);
    expect(await find({ width: 390 })).toBe('here');
    expect(await find({ text: 1.4, verse: 'all' })).toBe('here');
    expect(asked).toHaveLength(2);
  });

  it('is the server while the engraver is not ready, in another key, and where data is saved', async () => {
    const engraver = new FakeEngraver();
    const { find } = sourced(engraver);
    await find();
    engraver.rest();
    await settled();
    engraver.isReady = false;
    expect(await find({ width: 390 })).toBe('served');
    engraver.isReady = true;
    expect(await find({ played: 'i.C' })).toBe('served');
    engraver.isWanted = false;
    engraver.rest = () => expect.fail('nothing is fetched ahead');
    expect(await sourced(engraver).find()).toBe('served');
    expect(await sourced(null).find()).toBe('served');
  });

  it('is the device without a network, whatever was asked, and says so where it is not the same', async () => {
    const engraver = new FakeEngraver();
    const { find, source } = sourced(engraver);
    await find();
    engraver.rest();
    await settled();
    answers = () => null;
    engraver.isReady = false;
    expect(await find({ width: 390 })).toBe('here');
    expect(engraver.startNow).toHaveBeenCalled();
    expect(source.isBehind).toBe(false);
    expect(await find({ played: 'i.C' })).toBe('here');
    expect(source.isBehind).toBe(true);
    answers = served;
    source.renew();
    expect(await find({ played: 'i.C' })).toBe('served');
    expect(source.isBehind).toBe(false);
  });

  it('is nowhere where neither answers', async () => {
    answers = () => null;
    expect(await sourced().find()).toBe('offline');
  });

  it('ends with the right to them, whichever answer says so', async () => {
    const engraver = new FakeEngraver();
    const { find, refused } = sourced(engraver);
    await find();
    answers = () => json(GONE, 410);
    engraver.rest();
    await settled();
    expect(refused.map(({ code }) => code)).toEqual(['link-revoked']);
    expect(await find()).toBe('link-revoked');
    expect(refused).toHaveLength(2);
  });
});
