import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Abc, NO_DETAILS, type SongDetails } from '#music';
import type { Song } from '#server/contract/songs.ts';
import {
  languageName,
  placesIn,
  rightsProblem,
  nothingSaid,
  themesIn,
  yearIn,
} from './facts-typed.ts';
import { notices } from './notice.svelte.ts';
import { SongFacts } from './song-facts.svelte.ts';
import { SongPage } from './song.svelte.ts';

const read = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
const score = read.ok ? read.value[0] : undefined;
if (!score) throw new Error('the hymn is there');

let stored: { version: number; details: SongDetails; privateNote: string };
let names: { title: string; tune: string | null };
let patches: object[] = [];
let puts: { version: string | null; details: SongDetails; privateNote: string }[] = [];
let isGone = false;

const song = (): Song => {
  const facts = { ...score.facts, ...names };
  return { ...stored, id: 's', score: { ...score, facts } } as unknown as Song;
};

beforeEach(() => {
  [stored, puts, isGone] = [{ version: 1, details: NO_DETAILS, privateNote: '' }, [], false];
  [names, patches] = [{ title: 'Amazing Grace', tune: 'New Britain' }, []];
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    await Promise.resolve();
    if (isGone) throw new TypeError('network');
    if (init.method !== 'PUT' && init.method !== 'PATCH') return Response.json(song());
    const body = JSON.parse(String(init.body)) as typeof stored;
    const version = new Headers(init.headers).get('if-match');
    if (init.method === 'PUT') puts.push({ ...body, version });
    else patches.push(body);
    expect(path).toBe(init.method === 'PUT' ? '/api/songs/s/details' : '/api/songs/s');
    if (version !== `"v${stored.version}"`) return Response.json({ code: 'stale-version' }, { status: 412 }); // prettier-ignore
    if (init.method === 'PATCH') {
      names = { ...names, ...body };
      stored = { ...stored, version: stored.version + 1 };
      return Response.json(song());
    }
    stored = { ...body, version: stored.version + 1 };
    return Response.json(song());
  });
});

afterEach(() => {
  vi.unstubAllGlobals();
  notices.dismiss();
});

function open() {
  const page = new SongPage('s');
  page.song = song();
  return { page, facts: new SongFacts(page) };
}
const settle = () => vi.waitFor(() => expect(puts.length).toBeGreaterThan(0));

describe('What is known of a song', () => {
  it('is saved whole as it is written, on the version it builds on, and undone', async () => {
    const { page, facts } = open();
    facts.setThemes('grace,  trust, grace');
    expect(facts.details?.themes).toEqual(['grace', 'trust']);
    await vi.waitFor(() => expect(page.song?.version).toBe(2));
    expect(puts[0]).toEqual({ version: '"v1"', details: { ...NO_DETAILS, themes: ['grace', 'trust'] }, privateNote: '' }); // prettier-ignore
    await notices.undo();
    await vi.waitFor(() => expect(stored.version).toBe(3));
    expect(stored.details).toEqual(NO_DETAILS);
  });

  it('names the tune and the song anew, in the song itself, and takes each back alone', async () => {
    const { page, facts } = open();
    facts.setTune('  Arlington ');
    expect(page.song?.score.facts.tune).toBe('Arlington');
    await vi.waitFor(() => expect(page.song?.version).toBe(2));
    expect([patches, puts]).toEqual([[{ tune: 'Arlington' }], []]);
    facts.setThemes('grace');
    facts.setTitle('Amazing  Grace!');
    await vi.waitFor(() => expect(names.title).toBe('Amazing Grace!'));
    await vi.waitFor(() => expect(stored.details.themes).toEqual(['grace']));
    await notices.undo();
    await vi.waitFor(() => expect(names.title).toBe('Amazing Grace'));
    expect([names.tune, stored.details.themes]).toEqual(['Arlington', ['grace']]);
    facts.setTune(' ');
    await vi.waitFor(() => expect(names.tune).toBeNull());
  });

  it('holds back an empty title and says why', async () => {
    const { facts } = open();
    facts.setTitle('  ');
    expect(facts.titleHeld?.problem).toBe('A song needs a title.');
    facts.setTitle('Grace');
    expect(facts.titleHeld).toBeNull();
    await vi.waitFor(() => expect(names.title).toBe('Grace'));
    expect(patches).toEqual([{ title: 'Grace' }]);
  });

  it('lays a tune that is named together with one that someone else named: theirs stands', async () => {
    const { page, facts } = open();
    stored = { ...stored, version: 4 };
    names = { ...names, tune: 'Theirs' };
    facts.setTune('Mine');
    await vi.waitFor(() => expect(page.song?.score.facts.tune).toBe('Theirs'));
    stored = { ...stored, version: 9, privateNote: 'theirs too' };
    facts.setTune('Mine');
    await vi.waitFor(() => expect(names.tune).toBe('Mine'));
    expect(page.song?.privateNote).toBe('theirs too');
  });

  it('says hymn meter and first line as the song has them until somebody says otherwise', () => {
    const { facts } = open();
    expect(facts.firstLine).toMatch(/^Amazing grace/i);
    expect(facts.meter?.meter).toBe('8.6.8.6');
    expect(facts.meter?.reason).not.toBe('');
  });

  it('holds back a place that is not in the Bible, keeps what was typed, and says why', async () => {
    const { facts } = open();
    facts.setScripture('Ps 23; Psalm 151');
    expect(facts.scripture?.value).toBe('Ps 23; Psalm 151');
    expect(facts.scripture?.problem).toContain('150');
    expect(puts).toEqual([]);
    facts.setScripture('Ps 23; Psalm 15');
    await settle();
    expect(facts.scripture).toBeNull();
    expect(puts[0]?.details.scripture).toEqual(['Ps 23', 'Psalm 15']);
  });

  it('keeps nothing as public domain without a reason', async () => {
    const { facts } = open();
    facts.setRights('words', { status: 'public domain' });
    expect(facts.rights[0]?.status).toBe('public domain');
    expect(facts.rightsHeld?.problem).toContain('why');
    expect(puts).toEqual([]);
    facts.setRights('words', { reason: 'first printed in 1779' });
    await settle();
    expect(facts.rightsHeld).toBeNull();
    expect(puts[0]?.details.rights).toEqual([{ ...nothingSaid('words'), status: 'public domain', reason: 'first printed in 1779' }]); // prettier-ignore
    facts.setRights('words', nothingSaid('words'));
    await vi.waitFor(() => expect(puts.at(-1)?.details.rights).toEqual([]));
  });

  it('takes people in once they have a name, and never somebody who died before being born', async () => {
    const { facts } = open();
    facts.addPerson('words');
    facts.setPerson(0, { born: 1807 });
    expect(puts).toEqual([]);
    facts.setPerson(0, { name: 'John Newton', died: 1725 });
    expect(facts.peopleProblem).toContain('1725');
    facts.setPerson(0, { born: 1725, died: 1807 });
    await settle();
    expect(puts[0]?.details.people).toEqual([{ layer: 'words', name: 'John Newton', born: 1725, died: 1807, year: null }]); // prettier-ignore
    facts.removePerson(0);
    await vi.waitFor(() => expect(puts.at(-1)?.details.people).toEqual([]));
  });

  it('waits here while the network is gone', async () => {
    const { facts } = open();
    isGone = true;
    facts.setPrivateNote('Too high for us in G.');
    await vi.waitFor(() => expect(facts.saver?.state).toBe('kept'));
    expect(facts.privateNote).toBe('Too high for us in G.');
    isGone = false;
    await facts.saver?.retry();
    expect(stored.privateNote).toBe('Too high for us in G.');
  });

  it('is laid together with what someone else wrote in the other field', async () => {
    const { facts } = open();
    stored = { ...stored, version: 5, privateNote: 'theirs' };
    facts.setLanguage('en');
    await vi.waitFor(() => expect(stored.details.language).toBe('en'));
    expect(stored.privateNote).toBe('theirs');
  });
});

describe('What is typed', () => {
  it.each([
    ['a, b;c\n a', ['a', 'b', 'c']],
    ['Trust, trust, hope', ['Trust', 'hope']],
    [' ', []],
  ])('themes %j', (text, themes) => expect(themesIn(text)).toEqual(themes));

  it('a comma belongs to the verses of a place', () => {
    expect(placesIn('John 3,16; Ruth').problem).toBeNull();
    expect(placesIn('John 3,16; Ruth').places).toEqual(['John 3,16', 'Ruth']);
    expect(placesIn('Psalm 23; 24; John 3:16, 18').places).toEqual(['Psalm 23; 24', 'John 3:16, 18']); // prettier-ignore
    expect(placesIn('Psalm 23; 24; John 3:16, 18').problem).toBeNull();
    expect(placesIn('Hezekiah 2').problem).not.toBeNull();
  });

  it('years, languages, reasons', () => {
    expect(['1779', '', '3000', 'c. 1779'].map(yearIn)).toEqual([1779, null, undefined, undefined]);
    expect([languageName('de'), languageName('english words')]).toEqual(['German', null]);
    expect(rightsProblem({ ...nothingSaid('tune'), status: 'public domain' })).toContain('tune is');
  });
});
