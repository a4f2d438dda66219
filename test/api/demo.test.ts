import { mkdtempSync, rmSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, describe, expect, it, onTestFinished } from 'vitest';
import { Pitches, Reduction, Tessitura, Transpose, type Score, type SongTessitura } from '#music';
import type { Member } from '#server/contract/members.ts';
import type { Service, ServiceListItem } from '#server/contract/services.ts';
import { requireTeamId } from '#server/launch/seed.ts';
import { appFor, bringHymn, ownApp, ownDatabase, tagOf } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import { addService } from '#test/support/visitors.ts';

/** A Wednesday, ISO 8601 2026-W48-3. */
const WEDNESDAY = new Date('2026-11-25T12:00:00Z');

/** Every look at the clock is a second later. */
function clockFrom(start: Date): () => Date {
  let seconds = 0;
  return () => new Date(start.getTime() + (seconds += 1) * 1000);
}

let seeded = '';

/** The team a fresh install begins with is made once, and copied for each test. */
async function seedOnce(): Promise<string> {
  if (seeded) return seeded;
  const folder = mkdtempSync(join(tmpdir(), 'partbook-demo-'));
  const { store, database } = ownDatabase({ now: () => WEDNESDAY });
  await requireTeamId(store, 'seed-data', 'Europe/Berlin');
  const file = join(folder, 'seeded.db');
  await database.$executeRawUnsafe(`VACUUM INTO '${file}'`);
  seeded = file;
  return file;
}
afterAll(() => seeded && rmSync(dirname(seeded), { recursive: true, force: true }));

async function freshInstall(now = clockFrom(WEDNESDAY)) {
  const own = ownDatabase({ now }, await seedOnce());
  const [{ id: teamId } = { id: '' }] = await own.store.teams();
  return { ...own, ...(await appFor(own, teamId)), team: own.store.forTeam(teamId) };
}
type Install = Awaited<ReturnType<typeof freshInstall>>;
type Api = Install['api'];

async function list<T>(api: Api, what: string, query = ''): Promise<T[]> {
  const { body } = await api.get(`/api/${what}${query}`).expect(200);
  return body[what] as T[];
}

/** Ids of all that can be seen, and of all that is hidden. */
async function rowsOf(api: Api) {
  const ids = async (query: string) => {
    const rows = await Promise.all(
      ['songs', 'members', 'services'].map((what) => list<{ id: string }>(api, what, query)),
    );
    return rows.flat().map(({ id }) => id);
  };
  return { seen: (await ids('')).sort(), hidden: (await ids('?deleted=1')).sort() };
}

async function setDemo(api: Api, demo: string) {
  const { version } = (await api.get('/api/team').expect(200)).body;
  const answer = await api.patch('/api/team').set('if-match', tagOf(version)).send({ demo });
  expect(answer.status).toBe(200);
  expect(answer.body).toMatchObject({ demo, version: version + 1 });
  return answer.body;
}

async function servicesOf(api: Api): Promise<Service[]> {
  const found = await list<ServiceListItem>(api, 'services');
  const each = found.map(({ id }) => api.get(`/api/services/${id}`).expect(200));
  return (await Promise.all(each)).map(({ body }) => body as Service);
}

function tessituraOf(score: Score): SongTessitura {
  const tessitura = Tessitura.of(score);
  if (!tessitura) throw new Error(`“${score.facts.title}” is not sung`);
  return tessitura;
}

describe('The demo of a fresh install', () => {
  it('has one service that is past and one that is planned, on the Sundays round the day', async () => {
    const { api } = await freshInstall();
    const [past, planned, ...more] = await list<ServiceListItem>(api, 'services');
    expect(more).toEqual([]);
    // Berlin is an hour ahead of UTC in winter (IANA tz database, rule EU).
    expect(past).toMatchObject({
      title: 'Sunday service',
      date: '2026-11-22',
      startsAt: '2026-11-22T09:30:00.000Z',
      over: true,
    });
    expect(planned).toMatchObject({
      date: '2026-11-29',
      startsAt: '2026-11-29T09:30:00.000Z',
      over: false,
    });
    for (const service of [past, planned]) {
      expect(service?.songs.length).toBeGreaterThanOrEqual(5);
      expect(service?.people).toBe(6);
    }
    expect((await api.get('/api/team')).body).toMatchObject({ demo: 'offered', version: 1 });
  });

  it('has nobody on the bass this week, who was there last week', async () => {
    const { api } = await freshInstall();
    const [past, planned] = await servicesOf(api);
    const roles = (service: Service | undefined) =>
      service?.people.flatMap((person) => person.roles) ?? [];
    expect(roles(past)).toContain('bass');
    expect(roles(planned)).not.toContain('bass');
    for (const role of ['keys', 'guitar', 'lead voice', 'leader']) {
      expect(roles(planned)).toContain(role);
    }
    expect(past?.items.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['song', 'reading', 'talk', 'prayer']),
    );
  });

  it('has a beginner at the keys, two who lead, a child, a capo and a transpose button', async () => {
    const { api } = await freshInstall();
    const members = await list<Member>(api, 'members');
    const some = (test: (member: Member) => boolean) => members.filter(test).length;
    expect(some(({ roles, level }) => roles.includes('keys') && level === 'beginner')).toBe(1);
    expect(some(({ roles }) => roles.includes('lead voice'))).toBe(2);
    expect(some(({ child }) => child)).toBe(1);
    expect(some(({ roles, instruments }) => roles.includes('guitar') && !!instruments.capo)).toBe(
      1,
    );
    expect(some(({ instruments }) => instruments.transposeButton === true)).toBeGreaterThan(0);
    const leads = (await servicesOf(api)).flatMap(({ items }) => items);
    expect(leads.some(({ playedIn }) => Object.keys(playedIn).length > 0)).toBe(true);
  });

  it('has somebody at the keys with a usual pedal, who sees it on the sheets', async () => {
    const { api } = await freshInstall();
    const members = await list<Member>(api, 'members');
    const pedals = members.filter(({ levels }) => levels.pedal !== undefined);
    expect(pedals.map(({ name, levels }) => [name, levels.pedal])).toEqual([
      ['Marit', 'intermediate'],
    ]);
    const service = (await servicesOf(api)).find(({ people }) =>
      people.some(({ member, roles }) => member === pedals[0]?.id && roles.includes('keys')),
    );
    const parts = await api.get(`/api/services/${service?.id}/pages/${pedals[0]?.id}/parts`);
    const atKeys = (parts.body.pages as { part?: { role: string; rungs?: { pedal: number } } }[])
      .flatMap(({ part }) => part ?? [])
      .filter(({ role }) => role === 'keys');
    expect(atKeys.length).toBeGreaterThan(3);
    expect(atKeys.every(({ rungs }) => rungs?.pedal === 1)).toBe(true);
    expect(JSON.stringify(atKeys)).toContain('"pedal":"down"');
  });

  it('is planned with textures that build, passes of its own led by another, and a voice of the week', async () => {
    const { api } = await freshInstall();
    const members = await list<Member>(api, 'members');
    const songs = await list<{ id: string; title: string }>(api, 'songs');
    const [past, planned] = await servicesOf(api);
    const itemOf = (title: string) => {
      const song = songs.find((each) => each.title === title)?.id;
      return planned?.items.find((item) => item.song === song);
    };
    const idOf = (name: string) => members.find((member) => member.name === name)?.id;
    const vision = itemOf('Be Thou My Vision')?.form;
    expect(vision?.map(({ verse, texture }) => [verse, texture])).toEqual([
      [1, 'held'],
      [2, 'leading'],
      [4, 'leading'],
      [5, 'every beat'],
    ]);
    const morning = itemOf('Carry the Morning');
    const led = morning?.form?.filter(({ lead }) => lead !== undefined);
    expect(led).toEqual([{ section: 'verse', verse: 2, texture: 'held', lead: idOf('Elias') }]);
    expect(morning?.lead).toBeNull();
    expect(new Set(morning?.form?.map(({ texture }) => texture)).size).toBe(3);
    const voices = planned?.people.filter(({ voice }) => voice) ?? [];
    expect(voices).toEqual([
      { member: idOf('Ada'), roles: ['lead voice'], voice: { low: 'A3', high: 'A4' } },
    ]);
    // A cold: the top is lower than it usually is, and the member is as before.
    const usual = members.find(({ id }) => id === idOf('Ada'))?.comfortable;
    expect(usual).toEqual({ low: 'A3', high: 'C5' });
    expect(past?.people.every(({ voice }) => voice === null)).toBe(true);
  });

  it('sings within the furthest notes of whoever leads, in the usual key', async () => {
    const { team } = await freshInstall();
    const members = await team.members.list('present');
    const heard: string[] = [];
    for (const { id, title } of await team.songs.list('present')) {
      const song = await team.songs.find(id);
      const arrangement = await team.arrangements.findOfSong(id);
      const lead = members.find((member) => member.id === arrangement?.lead);
      if (!song || !arrangement || !lead?.limit) throw new Error(`${title} has no lead`);
      const { low, high } = tessituraOf(Transpose.score(song.score, arrangement.key));
      const octave = Pitches.midiOf(lead.limit.high) < Pitches.midiOf('A4') ? 12 : 0;
      const fits =
        Pitches.midiOf(low) - octave >= Pitches.midiOf(lead.limit.low) &&
        Pitches.midiOf(high) - octave <= Pitches.midiOf(lead.limit.high);
      if (!fits) heard.push(`${title}: ${low} to ${high} for ${lead.name}`);
    }
    expect(heard).toEqual([]);
  });
});

/** The hymns are those whose file says so: `copyright: public domain`. */
async function scoresOf({ team }: Install): Promise<{ hymns: Score[]; own: Score[] }> {
  const hymns: Score[] = [];
  const own: Score[] = [];
  for (const { id } of await team.songs.list('present')) {
    const song = await team.songs.find(id);
    const source = await team.songs.findSource(id);
    if (!song || !source) throw new Error('a song was listed and is not there');
    const isHymn = /public domain/i.test(Buffer.from(source.bytes).toString('latin1'));
    (isHymn ? hymns : own).push(song.score);
  }
  return { hymns, own };
}

const meterOf = ({ meters }: Score) =>
  meters[0]?.meter.beats === null ? 'none' : `${meters[0]?.meter.beats}/${meters[0]?.meter.unit}`;

describe('The songs of the demo', () => {
  it('are at least 14 hymns in the public domain that cover what a song may be', async () => {
    const { hymns } = await scoresOf(await freshInstall());
    expect(hymns.length).toBeGreaterThanOrEqual(14);
    const has = (test: (score: Score) => boolean) => hymns.filter(test).length;
    const modes = new Set(hymns.map(({ keys }) => keys[0]?.key.mode));
    expect([...modes]).toEqual(expect.arrayContaining(['major', 'minor', 'dorian']));
    const meters = new Set(hymns.map(meterOf));
    expect([...meters]).toEqual(expect.arrayContaining(['3/4', '4/4', '9/8', 'none']));
    expect(
      has(({ sections }) => sections.some(({ kind }) => kind === 'refrain')),
      'refrain',
    ).toBeGreaterThan(0);
    expect(
      has(({ verses }) => verses.length > 1),
      'several verses',
    ).toBeGreaterThan(0);
    expect(
      has(({ bars }) => bars[0]?.number === 0),
      'pickup',
    ).toBeGreaterThan(0);
    const slash = (score: Score) =>
      Reduction.withChords(score, { density: 'beat' }).chords.some(({ chord }) => !!chord?.bass);
    expect(has(slash), 'slash bass').toBeGreaterThan(0);
    // Our own measure of low and high: the middles of the tunes' time lie a fifth apart, their ends at B3 and E5.
    const middles = hymns.map((score) => Pitches.midiOf(tessituraOf(score).median));
    expect(Math.max(...middles) - Math.min(...middles)).toBeGreaterThanOrEqual(6);
    const ends = hymns.map(tessituraOf);
    expect(Math.min(...ends.map(({ low }) => Pitches.midiOf(low)))).toBeLessThanOrEqual(59);
    expect(Math.max(...ends.map(({ high }) => Pitches.midiOf(high)))).toBeGreaterThanOrEqual(76);
  });

  it('and two of our own with verse, refrain, bridge, a key change and written slash basses', async () => {
    const { own } = await scoresOf(await freshInstall());
    expect(own).toHaveLength(2);
    for (const { sections, keys, chords, facts } of own) {
      const kinds = sections.map(({ kind }) => kind);
      expect(kinds).toEqual(expect.arrayContaining(['verse', 'refrain', 'bridge']));
      expect(keys.length).toBeGreaterThan(1);
      expect(chords.some(({ chord }) => !!chord?.bass)).toBe(true);
      expect(facts.credits.join(' ')).toMatch(/written for this demo/);
    }
    expect(own.map(meterOf)).toContain('6/8');
  });
});

describe('PATCH /api/team clears the demo', () => {
  it('all of it in one step, and brings it back in one', async () => {
    const { api } = await freshInstall();
    const before = await rowsOf(api);
    const services = await servicesOf(api);
    await setDemo(api, 'cleared');
    expect(await rowsOf(api)).toEqual({ seen: [], hidden: before.seen });
    await setDemo(api, 'offered');
    expect(await rowsOf(api)).toEqual(before);
    // Hidden and shown: two changes, so that whoever holds an old version is told.
    expect(await servicesOf(api)).toEqual(services.map((each) => ({ ...each, version: 3 })));
    await setDemo(api, 'kept');
    expect(await rowsOf(api)).toEqual(before);
  });

  it('and leaves alone what the team brought itself, and what it had deleted or restored', async () => {
    const { api } = await freshInstall();
    const own = await bringHymn(api, 'Alleluia_Sing_To_Jesus-Hyfrydol');
    const [gone, back] = await list<Member>(api, 'members');
    await api.delete(`/api/members/${gone?.id}`).set('if-match', tagOf(1)).expect(204);
    const before = await rowsOf(api);
    await setDemo(api, 'cleared');
    expect((await rowsOf(api)).seen).toEqual([own.id]);
    // A demo member is wanted after all, and then is not.
    await api.post(`/api/members/${back?.id}/restore`).expect(200);
    await api.delete(`/api/members/${back?.id}`).set('if-match', tagOf(3)).expect(204);
    await setDemo(api, 'kept');
    const after = await rowsOf(api);
    expect(after.hidden).toEqual([gone?.id, back?.id].sort());
    expect(after.seen).toEqual(before.seen.filter((id) => id !== back?.id));
  });

  it('and leaves a service of the team’s own its songs and its people', async () => {
    const { api } = await freshInstall();
    const [song, other] = await list<{ id: string; title: string }>(api, 'songs');
    const [ruth, joel, ada] = await list<Member>(api, 'members');
    if (!song || !other || !ruth || !joel || !ada) throw new Error('the demo has them');
    const line = { id: 'one', kind: 'song', song: song.id, lead: joel.id };
    const service = await addService(api, {
      items: [line as never],
      people: [{ member: ruth.id, roles: ['lead voice'] }],
    });
    const gone = await addService(api, { items: [{ ...line, song: other.id } as never] });
    await api.delete(`/api/services/${gone.id}`).set('if-match', tagOf(1)).expect(204);
    await setDemo(api, 'cleared');
    const needed = [song.id, ruth.id, joel.id, service.id].sort();
    expect((await rowsOf(api)).seen).toEqual(needed);
    await setDemo(api, 'kept');
    expect((await rowsOf(api)).seen).toContain(ada.id);
  });

  it('tells rows that were deleted in the very same instant from those it hides', async () => {
    const { api } = await freshInstall(() => WEDNESDAY);
    const [gone] = await list<Member>(api, 'members');
    await api.delete(`/api/members/${gone?.id}`).set('if-match', tagOf(1)).expect(204);
    await setDemo(api, 'cleared');
    await setDemo(api, 'kept');
    expect((await rowsOf(api)).hidden).toEqual([gone?.id]);
  });

  it('and changes nothing where it is cleared already', async () => {
    const { api } = await freshInstall();
    await setDemo(api, 'cleared');
    const [song] = await list<{ id: string }>(api, 'songs', '?deleted=1');
    await api.post(`/api/songs/${song?.id}/restore`).expect(200);
    await setDemo(api, 'cleared');
    expect((await rowsOf(api)).seen).toEqual([song?.id]);
  });
});

describe('A team that begins with nothing', () => {
  it('is made of a file that names no services, and has no demo', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'partbook-seed-'));
    onTestFinished(() => rm(folder, { recursive: true, force: true }));
    const usually = { player: '', lead: '', singers: [] };
    const plan = { name: 'A new team', members: [], songs: [], usually };
    await writeFile(join(folder, 'team.json'), JSON.stringify(plan));
    const own = ownDatabase();
    const { api } = await appFor(own, await requireTeamId(own.store, folder));
    expect((await api.get('/api/team')).body).toMatchObject({ name: 'A new team', demo: null });
    const refused = await api
      .patch('/api/team')
      .set('if-match', tagOf(1))
      .send({ demo: 'cleared' });
    expect(expectProblem(refused, 'no-demo').detail).toContain('A new team');
    const both = { name: 'Renamed', demo: 'kept' };
    expectProblem(await api.patch('/api/team').set('if-match', tagOf(1)).send(both), 'no-demo');
    expect((await api.get('/api/team')).body).toMatchObject({ name: 'A new team', version: 1 });
  });

  it('is as good as any that was made without a file', async () => {
    const { api } = await ownApp();
    expectProblem(
      await api.patch('/api/team').set('if-match', tagOf(1)).send({ demo: 'kept' }),
      'no-demo',
    );
  });
});
