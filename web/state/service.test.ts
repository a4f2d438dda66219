import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Keys } from '#music';
import { item, ServiceServer } from '#test/support/service-server.ts';
import { notices } from './notice.svelte.ts';
import { SongLine } from './service-line.svelte.ts';
import { ServicePage } from './service.svelte.ts';

let server: ServiceServer;
let page: ServicePage;
beforeEach(async () => {
  server = new ServiceServer();
  vi.stubGlobal('fetch', server.fetch);
  page = new ServicePage('x');
  await page.load();
});
afterEach(() => {
  notices.dismiss();
  vi.unstubAllGlobals();
});

const order = () => page.items.map(({ id }) => id).join(' ');
const saved = () => page.saver?.retry();

describe('A service that somebody else changes too', () => {
  it('keeps both changes where they are of different things', async () => {
    server.service = { ...server.service, place: 'The hall', version: server.service.version + 1 };
    page.change({ title: 'Harvest' }, 'Renamed.');
    await page.saver?.retry();
    expect(server.service).toMatchObject({ title: 'Harvest', place: 'The hall' });
    expect(page.service).toMatchObject({ title: 'Harvest', place: 'The hall' });
    expect(notices.current?.words).toContain('both changes stand');
  });

  it('lets theirs stand where both changed the same, says what was not kept, and takes it on one tap', async () => {
    server.service = { ...server.service, title: 'Theirs', version: server.service.version + 1 };
    page.change({ title: 'Mine' }, 'Renamed.');
    await page.saver?.retry();
    expect(page.service?.title).toBe('Theirs');
    expect(notices.current).toMatchObject({ label: 'Use mine' });
    expect(notices.current?.words).toContain('what the service is called');
    await notices.undo();
    await page.saver?.retry();
    expect(server.service.title).toBe('Mine');
  });
});

describe('A song that was taken out of the book', () => {
  it('is called by its title still, where a service has it', async () => {
    server.service = { ...server.service, items: [item('a', { song: 'gone' })] };
    await page.load();
    expect(page.items.map((each) => page.titleOf(each))).toEqual(['Old Hundredth']);
  });
});

describe('A service that is left and opened again', () => {
  it('takes the way back with it, and waits for its last change', async () => {
    page.change({ title: 'Harvest' }, 'Renamed.');
    page.leave();
    expect(notices.current).toBeNull();
    const again = new ServicePage('x');
    await again.load();
    expect(again.service?.title).toBe('Harvest');
    again.change({ place: 'The hall' }, 'Moved.');
    await again.saver?.retry();
    expect(server.service).toMatchObject({ title: 'Harvest', place: 'The hall' });
    expect(notices.current?.words).toBe('Moved.');
  });
});

describe('The order of a service', () => {
  it('has its clock times, its keys and its leads; each song is fetched once', () => {
    const lines = page.sheet?.lines ?? [];
    expect(lines.map(({ title, key, lead }) => [title, key, lead])).toEqual([
      ['Amazing Grace', 'F major', 'Ruth'],
      ['Isaiah 40', null, null],
      ['', null, null],
    ]);
    expect(lines[0]?.begins).toBe('10:30');
    const minutes = (clock = '') => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));
    expect(minutes(lines[2]?.begins ?? '') - minutes(lines[1]?.begins ?? '')).toBe(3);
    expect(server.asked.filter((path) => path === '/api/songs/grace')).toHaveLength(1);
  });

  it('says who is named to lead and does not serve this week, and who leads instead', () => {
    const people = (page.service?.people ?? []).filter((each) => each.member !== 'Tomas');
    page.change({ people, items: page.items.map((each) => ({ ...each, lead: 'Tomas' })) }, 'Tomas is away.'); // prettier-ignore
    expect(page.sheet?.lines[0]).toMatchObject({
      lead: 'Ruth',
      directions: ['Tomas leads this song but does not serve this week: Ruth leads instead'],
    });
  });

  it('takes a new line below the one in hand, and puts that one in hand', async () => {
    page.inHand = 'a';
    page.add('prayer');
    expect(page.items.map(({ kind }) => kind)).toEqual(['song', 'prayer', 'reading', 'talk']);
    expect(page.line?.kind).toBe('prayer');
    await saved();
    expect(server.service.items.map(({ kind }) => kind)).toEqual([
      'song',
      'prayer',
      'reading',
      'talk',
    ]);
  });

  it('moves a line up and down, says where it stands, and stops at the ends', async () => {
    const talk = page.items[2];
    if (!talk) throw new Error('the talk is there');
    page.move(talk, -1);
    expect(order()).toBe('a c b');
    expect(page.said).toBe('Talk: line 2 of 3.');
    page.move(talk, -1);
    page.move(talk, -1);
    expect(order()).toBe('c a b');
    expect(page.said).toMatch(/line 1 of 3. It stands at the end/);
    await saved();
    expect(server.service.items.map(({ id }) => id).join(' ')).toBe('c a b');
  });

  it('lies as it was dragged; a drag that ends where it began changes nothing', async () => {
    page.reorder(['b', 'a', 'c'], 'b');
    expect(order()).toBe('b a c');
    await saved();
    page.reorder(['b', 'a', 'c'], 'b');
    await saved();
    expect(server.sent).toHaveLength(1);
  });

  it('is taken back change by change, the latest first', async () => {
    const [song, reading] = page.items;
    if (!song || !reading) throw new Error('they are there');
    page.takeOut(reading);
    page.changeItem('a', { key: { tonic: 'G', mode: 'major' } }, 'In G.');
    page.move(song, 1);
    expect(order()).toBe('c a');
    page.undo();
    expect(order()).toBe('a c');
    await notices.undo();
    expect(page.items[0]?.key).toBeNull();
    page.undo();
    expect(order()).toBe('a b c');
    page.undo();
    expect(order()).toBe('a b c');
    await saved();
    expect(server.service.items.map(({ id }) => id).join(' ')).toBe('a b c');
  });

  it('is by the clocks of another place at once, saved, and taken back', async () => {
    page.change({ zone: 'America/New_York' }, 'By the clocks of America/New York.');
    await saved();
    expect(server.service).toMatchObject({ zone: 'America/New_York', date: '2026-11-29' });
    await notices.undo();
    await saved();
    expect(server.service.zone).toBe('Europe/Berlin');
  });

  it('is laid together where someone else was faster, and nothing is taken back over theirs', async () => {
    server.service = { ...server.service, title: 'Advent I', version: 5 };
    page.change({ place: 'chapel' }, 'In the chapel.');
    await saved();
    await expect.poll(() => page.service?.title).toBe('Advent I');
    page.undo();
    expect(server.sent).toEqual([{ place: 'chapel' }]);
  });
});

describe('The people of the week', () => {
  it('count with this week’s voice, which the member does not get', async () => {
    const [ruth] = page.week;
    if (!ruth) throw new Error('she serves');
    page.changePerson(ruth, { voice: { low: 'A3', high: 'A4' } }, 'Ruth this week.');
    expect(page.members[0]?.comfortable).toEqual({ low: 'A3', high: 'A4' });
    await saved();
    expect(server.service.people[0]?.voice).toEqual({ low: 'A3', high: 'A4' });
    expect(server.asked.filter((path) => path.startsWith('/api/members/'))).toEqual([]);
  });

  it('say what a missing role means, until somebody has it', () => {
    expect(page.sheet?.missing.join(' ')).toMatch(/No bass this week/);
    const [, tomas] = page.week;
    if (!tomas) throw new Error('he serves');
    page.changePerson(tomas, { roles: ['bass'] }, 'Tomas plays the bass.');
    expect(page.sheet?.missing.join(' ')).not.toMatch(/No bass/);
  });
});

describe('A song in hand', () => {
  let line: SongLine;
  beforeEach(() => {
    line = new SongLine(page);
    page.inHand = 'a';
  });

  it('says home, usual and this service’s key, and how far they lie apart', () => {
    expect(line.distance('This Sunday')).toBe('Home key G major. Usually in F major, down a step.');
    line.choose({ tonic: 'Eb', mode: 'major' });
    expect(line.distance('This Sunday')).toBe(
      'Home key G major. Usually in F major, down a step. ' +
        'This Sunday in E♭ major, down a third from home and down a step from the usual.',
    );
    line.choose(null);
    expect(line.key && Keys.writeKey(line.key)).toBe('F major');
  });

  it('weighs its key on this week’s voices: who led last is too high for another voice', async () => {
    expect(line.lead).toBe('Ruth');
    const verdict = () => line.leads.find(({ isLead }) => isLead)?.row?.verdict;
    expect(verdict()).not.toBe('outside');
    const [ruth] = page.week;
    if (!ruth) throw new Error('she serves');
    page.changePerson(ruth, { voice: { low: 'G3', high: 'G4' } }, 'Ruth is hoarse.');
    expect(verdict()).toBe('outside');
    const tomas = line.leads.find(({ member: { id } }) => id === 'Tomas');
    if (!tomas) throw new Error('he sings');
    line.leadsIt(tomas.member);
    expect(page.items[0]?.lead).toBe('Tomas');
  });

  it('has the player of the week at the keys: the hands are theirs', async () => {
    expect(line.fit.player?.id).toBe('Ines');
    await line.fit.players.weighed();
    expect(line.fit.handWords[0]).toMatch(/^Ines at the keys: /);
  });

  it('takes a texture for a pass, leaves passes out and adds them, and is as usual again', () => {
    const names = () => line.form.shown.map(({ name }) => name);
    const usual = names();
    expect(usual[0]).toBe('Verse 1');
    line.form.setTexture(0, 'every beat');
    expect(line.form.shown[0]).toMatchObject({ name: 'Verse 1', texture: 'every beat' });
    line.form.remove(1);
    expect(names()).not.toContain('Verse 2');
    line.form.add(line.form.sections.findIndex(({ name }) => name === 'Verse 2'));
    line.form.move(usual.length - 1, -1);
    expect(names().at(-2)).toBe('Verse 2');
    line.form.asUsual();
    expect(names()).toEqual(usual);
    expect(page.items[0]?.form).toBeNull();
  });

  it('takes a lead for a pass from the singers of the week, says it in the order, and takes it back', async () => {
    expect(line.form.leads.map(({ name }) => name)).toEqual(['Ruth', 'Tomas']);
    line.form.setLead(1, 'Tomas');
    expect(line.form.shown[1]).toMatchObject({ name: 'Verse 2', lead: 'Tomas' });
    expect(page.sheet?.lines[0]?.directions.join(' ')).toMatch(/verse 2: Tomas leads/);
    await saved();
    expect(server.service.items[0]?.form?.[1]).toMatchObject({ verse: 2, lead: 'Tomas' });
    line.form.setLead(1, null);
    expect(line.form.shown[1]?.lead).toBeNull();
    expect(page.items[0]?.form?.[1]).not.toHaveProperty('lead');
    page.undo();
    page.undo();
    expect(page.items[0]?.form).toBeNull();
  });

  it('offers other keys to read in to whoever has a way to: a button, a capo', () => {
    expect(line.readers.map(({ member: { id } }) => id).sort()).toEqual(['Ines', 'Tomas']);
    const ines = line.readers.find(({ member: { id } }) => id === 'Ines');
    if (!ines) throw new Error('she has a button');
    line.readIn(ines.member, 'C');
    expect(page.items[0]?.playedIn).toEqual({ Ines: 'C' });
    expect(page.sheet?.lines[0]?.directions.join(' ')).toMatch(/Ines: play in C/);
    line.readIn(ines.member, null);
    expect(page.items[0]?.playedIn).toEqual({});
  });
});

describe('A change that no server heard', () => {
  const offline = () => vi.stubGlobal('fetch', () => Promise.reject(new TypeError('no network')));

  it('is taken over by the next page of the service, and sent from there once', async () => {
    offline();
    page.change({ title: 'Harvest' }, 'Renamed.');
    await saved();
    expect(page.saver?.state).toBe('kept');
    page.leave();
    vi.stubGlobal('fetch', server.fetch);
    // Whoever opens it again finds it, and it is sent on the version that it was made on.
    const again = new ServicePage('x');
    await again.load();
    await again.saver?.retry();
    expect(again.service?.title).toBe('Harvest');
    expect(server.sent).toEqual([{ title: 'Harvest' }]);
    expect(page.saver?.held).toBeNull();
  });

  it('stands on the page without an answer too, and is laid together with what others changed', async () => {
    offline();
    page.change({ title: 'Harvest' }, 'Renamed.');
    await saved();
    page.leave();
    const again = new ServicePage('x');
    await again.load();
    expect(again.trouble).toBeNull();
    expect(again.service?.title).toBe('Harvest');
    server.service = { ...server.service, place: 'The hall', version: server.service.version + 1 };
    vi.stubGlobal('fetch', server.fetch);
    await again.saver?.retry();
    expect(server.service).toMatchObject({ title: 'Harvest', place: 'The hall' });
  });
});
