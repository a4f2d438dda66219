import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { LibrarySong } from '#server/contract/library.ts';
import { Library } from './library.svelte.ts';
import { notices } from './notice.svelte.ts';

const song = (title: string): LibrarySong => ({
  id: title,
  version: 1,
  title,
  firstLine: null,
  tune: null,
  hymnMeter: null,
  key: { tonic: 'G', mode: 'major' },
  meter: '3/4',
  tempo: null,
  low: null,
  high: null,
  themes: [],
  lastSung: null,
  timesSung: 0,
  found: [],
  fits: null,
});

interface Asked {
  readonly url: URL;
  readonly method: string;
  readonly answer: (body: unknown) => void;
}

let asked: Asked[] = [];
let went: [string, string][] = [];

/** A server that answers when it is told to; a question that is aborted fails as in a browser. */
beforeEach(() => {
  vi.useFakeTimers();
  [asked, went] = [[], []];
  vi.stubGlobal('fetch', (path: string, init: RequestInit) => {
    return new Promise((done, fail) => {
      init.signal?.addEventListener('abort', () => fail(new DOMException('', 'AbortError')));
      asked.push({
        url: new URL(path, 'http://book'),
        method: init.method ?? 'GET',
        answer: (body) =>
          done(body === undefined ? new Response(null, { status: 204 }) : Response.json(body)),
      });
    });
  });
});

afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
  notices.dismiss();
});

function open(address = ''): Library {
  const library: Library = new Library({
    go: (to, how = 'push') => {
      went.push([how, to]);
      library.follow(new URL(to, 'http://book').searchParams);
    },
  });
  library.follow(new URLSearchParams(address));
  return library;
}

const answer = (...titles: string[]) => ({ songs: titles.map(song), count: titles.length, all: 9 });
const settle = () => vi.advanceTimersByTimeAsync(200);

describe('Looking for a song', () => {
  it('asks when the typing rests, once; the list stays until the answer is there', async () => {
    const library = open();
    asked[0]?.answer(answer('Azmon', 'Slane'));
    await settle();
    library.type('a');
    library.type('am');
    library.type('ama');
    expect(asked).toHaveLength(1);
    await settle();
    expect(asked).toHaveLength(2);
    expect(asked[1]?.url.searchParams.get('q')).toBe('ama');
    expect(went).toEqual([['replace', '/songs?q=ama']]);
    expect(library.songs.map(({ title }) => title)).toEqual(['Azmon', 'Slane']);
    expect(library.waiting).toBe(true);
    asked[1]?.answer(answer('Amazing Grace'));
    await settle();
    expect(library.songs.map(({ title }) => title)).toEqual(['Amazing Grace']);
    expect(library.waiting).toBe(false);
  });

  it('drops an answer that a newer question overtook', async () => {
    const library = open('q=old');
    library.type('new');
    await settle();
    asked[1]?.answer(answer('New'));
    await settle();
    asked[0]?.answer(answer('Old'));
    await settle();
    expect(library.songs.map(({ title }) => title)).toEqual(['New']);
  });

  it('puts what is asked beside the words into the history, with the words as typed so far', async () => {
    const library = open();
    library.type('lamp');
    library.ask({ meter: '3/4' });
    expect(went).toEqual([['push', '/songs?q=lamp&meter=3%2F4']]);
    const [clause] = library.clauses;
    if (clause) library.loosen(clause);
    expect(went.at(-1)).toEqual(['push', '/songs?q=lamp']);
    await settle();
    expect(went).toHaveLength(2);
  });

  it('where nothing is all of it, says what alone stands in the way', async () => {
    const library = open('meter=3/4&rested=8');
    asked[0]?.answer(answer());
    await settle();
    expect(asked[1]?.url.search).toBe('?from=0&most=1&rested=8');
    asked[1]?.answer({ ...answer('Slane'), count: 4 });
    await settle();
    asked[2]?.answer(answer());
    await settle();
    expect(library.looser.map(({ clause, count }) => [clause.words, count])).toEqual([
      ['in 3/4', 4],
    ]);
  });

  it('asks nothing that cannot be asked, and says why', () => {
    const library = open('key=H');
    expect(asked).toEqual([]);
    expect(library.wrong?.field).toBe('key');
  });

  it('turns pages of fifty', async () => {
    const library = open('q=o');
    asked[0]?.answer({ ...answer('One'), count: 120 });
    await settle();
    library.turn(1);
    expect(went.at(-1)).toEqual(['push', '/songs?q=o&from=50']);
    expect(asked[1]?.url.searchParams.get('from')).toBe('50');
  });
});

describe('Taking a song out of the book', () => {
  it('is done at once, and undone from the foot of the page', async () => {
    const library = open();
    asked[0]?.answer(answer('Azmon', 'Slane'));
    await settle();
    void library.takeOut(song('Azmon'));
    expect(library.songs.map(({ title }) => title)).toEqual(['Slane']);
    expect([asked[1]?.method, asked[1]?.url.pathname]).toEqual(['DELETE', '/api/songs/Azmon']);
    asked[1]?.answer(undefined);
    await settle();
    void notices.undo();
    expect(asked[2]?.url.pathname).toBe('/api/songs/Azmon/restore');
    asked[2]?.answer({});
    await settle();
    asked[3]?.answer(answer('Azmon', 'Slane'));
    await settle();
    expect(library.songs).toHaveLength(2);
  });
});
