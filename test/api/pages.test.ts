import { describe, expect, it } from 'vitest';
import type { NewMember } from '#server/contract/members.ts';
import type { OwnRungs } from '#server/contract/music.ts';
import type { Page } from '#server/contract/pages.ts';
import type { NewService, ServiceItemInput } from '#server/contract/services.ts';
import { RenderError } from '#server/render/renderer.ts';
import {
  addMember,
  appFor,
  arrangementOf,
  bringHymn,
  ownApp,
  ownDatabase,
  tagOf,
} from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import { pagesOf, quickRenderer, songItem } from '#test/support/service.ts';
import { addService, makeLink, openLink } from '#test/support/visitors.ts';

/** An app that draws nothing, so that what is on the pages is told quickly. */
async function quickApp() {
  const own = ownDatabase();
  const teamId = await own.store.addTeam('Mill Lane');
  const renderer = quickRenderer();
  return { ...own, teamId, renderer, ...(await appFor(own, teamId, {}, renderer)) };
}

type Roles = NonNullable<NewService['people']>[number]['roles'];

/** One song, one person and a service in which they meet. */
async function oneOf(
  roles: Roles,
  {
    member,
    item,
    people = [],
  }: {
    member?: Partial<NewMember>;
    item?: Partial<ServiceItemInput>;
    people?: NonNullable<NewService['people']>;
  } = {},
) {
  const own = await quickApp();
  const song = await bringHymn(own.api);
  const ines = await addMember(own.api, { name: 'Ines', ...member });
  const service = await addService(own.api, {
    items: [songItem('a', song.id, item)],
    people: [{ member: ines.id, roles }, ...people],
  });
  const path = `/api/services/${service.id}/pages/${ines.id}`;
  const ask = (query = '') => pagesOf(own.api, service.id, ines.id, query);
  return { ...own, song, ines, service, path, ask };
}

const kindsOf = ({ pages }: { readonly pages: readonly Page[] }) =>
  pages.map(({ kind, role }) => `${kind} ${role}`);

const staffOf = ({ pages }: { readonly pages: readonly Page[] }) => {
  const page = pages.find(({ kind }) => kind === 'staff');
  if (page?.kind !== 'staff') throw new Error('there is no staff page');
  return page;
};

describe('GET /api/services/:id/pages/:member', () => {
  it('gives everything that a person opens, drawn for their view', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const ines = await addMember(api, { name: 'Ines' });
    const service = await addService(api, {
      title: 'Advent',
      date: '2026-11-29',
      place: 'The mill',
      items: [
        songItem('a', song.id),
        songItem('b', song.id, { key: { tonic: 'F', mode: 'major' } }),
      ],
      people: [{ member: ines.id, roles: ['keys'] }],
    });
    const pages = await pagesOf(api, service.id, ines.id);
    expect(pages).toMatchObject({
      service: { title: 'Advent', date: '2026-11-29', time: '10:30', place: 'The mill' },
      person: { id: ines.id, name: 'Ines', roles: ['keys'] },
      reads: {},
    });
    expect(pages.pages.map(({ item, title }) => [item, title])).toEqual([
      ['a', 'Amazing Grace'],
      ['b', 'Amazing Grace'],
    ]);
    const keys = pages.pages.map((page) => page.kind === 'staff' && page.sheet.heading.key);
    expect(keys).toEqual(['G major', 'F major']);
    const { sheet } = staffOf(pages);
    expect(sheet.systems.length).toBeGreaterThan(2);
    expect(sheet.systems[0]?.svg).toMatch(/^<svg /);
    const phone = staffOf(await pagesOf(api, service.id, ines.id, '?width=390&text=1.5'));
    expect(phone.sheet.systems.length).toBeGreaterThan(sheet.systems.length);
  });

  it.each<[Roles, string[]]>([
    [['keys'], ['staff keys']],
    [['bass'], ['staff bass']],
    [['lead voice'], ['staff lead voice']],
    [['harmony voice'], ['staff harmony voice']],
    [['guitar'], ['words guitar']],
    [['drums'], ['words drums']],
    [['leader'], ['order leader', 'words leader']],
    [
      ['leader', 'keys'],
      ['order leader', 'staff keys'],
    ],
    [
      ['lead voice', 'keys'],
      ['staff keys', 'staff lead voice'],
    ],
    // Nobody is named, so the only lead voice of the week leads.
    [['lead voice', 'harmony voice'], ['staff lead voice']],
    [
      ['guitar', 'harmony voice'],
      ['words guitar', 'staff harmony voice'],
    ],
    [[], []],
  ])('as %j has the pages %j', async (roles, kinds) => {
    expect(kindsOf(await (await oneOf(roles)).ask())).toEqual(kinds);
  });

  it('lays the pages in the order of the service, with what is not sung only in the leader’s order', async () => {
    const { api, song, ines, service } = await oneOf(['leader', 'keys']);
    await api
      .patch(`/api/services/${service.id}`)
      .set('if-match', tagOf(1))
      .send({
        items: [
          { id: 'r', kind: 'reading', title: 'Isaiah 40', minutes: 3 },
          songItem('b', song.id, { lead: ines.id, minutes: 4 }),
          { id: 't', kind: 'talk', note: 'stand' },
          songItem('a', song.id),
        ],
      })
      .expect(200);
    const { pages } = await pagesOf(api, service.id, ines.id);
    expect(pages.map(({ kind, item }) => [kind, item])).toEqual([
      ['order', null],
      ['staff', 'b'],
      ['staff', 'a'],
    ]);
    const [order] = pages;
    if (order?.kind !== 'order') throw new Error('no order');
    expect(order.sheet).toMatchObject({ title: 'Morning', when: 'Sunday, 8 March 2026, 10:30' });
    expect(order.sheet.lines.map(({ begins, title, lead }) => [begins, title, lead])).toEqual([
      ['10:30', 'Isaiah 40', null],
      ['10:33', 'Amazing Grace', 'Ines'],
      ['10:37', '', null],
      [null, 'Amazing Grace', null],
    ]);
    expect(order.sheet.lines[2]?.note).toBe('stand');
    expect(order.sheet.missing[0]).toMatch(/^No bass this week/);
  });

  it('goes by the usual where the lead of a song or of a pass does not serve, and says so in the order', async () => {
    const { api, song, ines, service } = await oneOf(['leader', 'keys', 'lead voice']);
    const [ruth, tom] = [await addMember(api, { name: 'Ruth' }), await addMember(api, { name: 'Tom' })]; // prettier-ignore
    const { section } = song.score.form[0] ?? { section: '' };
    const form = [
      { section, verse: 1 },
      { section, verse: 2, lead: tom.id },
    ];
    await api
      .patch(`/api/services/${service.id}`)
      .set('if-match', tagOf(1))
      .send({ items: [songItem('a', song.id, { lead: ruth.id, form })] })
      .expect(200);
    const { pages } = await pagesOf(api, service.id, ines.id);
    const [order] = pages;
    if (order?.kind !== 'order') throw new Error('no order');
    expect(order.sheet.lines[0]).toMatchObject({
      lead: 'Ines',
      directions: [
        'Ruth leads this song but does not serve this week: Ines leads instead',
        'Tom leads a pass of this song but does not serve this week: Ines leads instead',
      ],
    });
    expect(JSON.stringify(pages.slice(1))).not.toMatch(/Ruth|Tom/);
    // Who holds the link knows nobody but those who serve.
    const made = await makeLink(api, service.id);
    const answer = await api
      .get(`/api/set/${made.link.id}/pages/${ines.id}`)
      .set('cookie', await openLink(api, made))
      .expect(200);
    expect(JSON.stringify(answer.body)).not.toMatch(/Ruth|Tom/);
  });

  it('takes key, form and lead of this service before the usual ones', async () => {
    const { api, song, ask, service, ines } = await oneOf(['keys']);
    const section = song.score.sections[0]?.id;
    await api
      .patch(`/api/songs/${song.id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ key: { tonic: 'F', mode: 'major' } })
      .expect(200);
    expect(staffOf(await ask()).sheet).toMatchObject({
      heading: { key: 'F major' },
      order: 'introduction once, then verses 1 to 7',
    });
    const form = [1, 4].map((verse) => ({ section, verse }));
    const item = songItem('a', song.id, { key: { tonic: 'Eb', mode: 'major' } });
    await api
      .patch(`/api/services/${service.id}`)
      .set('if-match', tagOf(1))
      .send({ items: [{ ...item, form }] })
      .expect(200);
    expect(staffOf(await pagesOf(api, service.id, ines.id)).sheet).toMatchObject({
      heading: { key: 'E♭ major' },
      order: 'introduction once, then verses 1 and 4',
    });
  });

  it('sets only verses that are sung: the first of them under the notes, the others as text', async () => {
    const { api, song, service, ines, ask } = await oneOf(['keys', 'lead voice']);
    const section = song.score.sections[0]?.id ?? '';
    const sing = (tag: number, verses: readonly number[]) =>
      api
        .patch(`/api/services/${service.id}`)
        .set('if-match', tagOf(tag))
        .send({
          items: [songItem('a', song.id, { form: verses.map((verse) => ({ section, verse })) })],
        })
        .expect(200);
    const seen = async (query = '') =>
      (await ask(query)).pages.map((page) => {
        if (page.kind !== 'staff') throw new Error('there is no staff page');
        const { verses, words } = page.sheet;
        return [verses.all, verses.under, words.map(({ number }) => number)];
      });
    const both = (...facts: unknown[]) => [facts, facts];
    await sing(1, [2, 4]);
    expect(await seen()).toEqual(both([2, 4], 2, [4]));
    expect(await seen('?verse=4')).toEqual(both([2, 4], 4, [2]));
    // Verse 1 is not sung, and the song has no verse 99.
    for (const verse of ['1', '99'])
      expect(await seen(`?verse=${verse}`)).toEqual(both([2, 4], 2, [4]));
    expect(await seen('?verse=all')).toEqual(both([2, 4], 'all', []));
    // Verse 7 of this hymn stands below its music and has no notes.
    await sing(2, [5, 7, 1]);
    expect(await seen()).toEqual(both([5, 1], 5, [7, 1]));
    expect((await pagesOf(api, service.id, ines.id)).pages).toHaveLength(2);
  });

  it('gives each hand at the keys its own rung, by the levels and by what was chosen for the song', async () => {
    const rubricAt = async (member: Partial<NewMember>, rungs?: OwnRungs) => {
      const { api, song, ines, service, ask } = await oneOf(['keys'], { member });
      if (rungs)
        await api
          .patch(`/api/services/${service.id}`)
          .set('if-match', tagOf(1))
          .send({ items: [songItem('a', song.id, { rungs: { [ines.id]: rungs } })] })
          .expect(200);
      return staffOf(await ask()).sheet.heading.rubric;
    };
    expect(await rubricAt({})).toBe('keys, first rung, for Ines');
    const mixed = { level: 'advanced', levels: { 'left hand': 'beginner' } } as const;
    expect(await rubricAt(mixed)).toBe('keys, right hand rung 4, left hand rung 1, for Ines');
    expect(await rubricAt({}, { right: 2, pedal: 1 })).toBe(
      'keys, right hand rung 2, left hand rung 1, with pedal, for Ines',
    );
  });

  it('gives a bass player the rung that was chosen for the song, else that of their level', async () => {
    const { api, song, ines, service, ask } = await oneOf(['bass']);
    const rubricNow = async () => staffOf(await ask()).sheet.heading.rubric;
    expect(await rubricNow()).toBe('bass, first rung, for Ines');
    const put = (version: number, rungs: object) =>
      api
        .patch(`/api/services/${service.id}`)
        .set('if-match', tagOf(version))
        .send({ items: [songItem('a', song.id, { rungs: { [ines.id]: rungs } })] });
    await put(1, { bass: 2 }).expect(200);
    expect(await rubricNow()).toBe('bass, second rung, for Ines');
    const [section] = song.score.sections;
    await put(2, { sections: { [section?.id ?? '']: { bass: 3 } } }).expect(200);
    expect(await rubricNow()).toBe('bass, first rung, for Ines');
    expect(staffOf(await ask()).sheet.summary).toContain('the bass of the song');
    expectProblem(await put(3, { bass: 4 }), 'invalid-input');
  });

  it('sets the page in the key it is read in, by the plan or as it is asked, and lists the choices', async () => {
    const member = { instruments: { transposeButton: true } };
    const { api, song, ines, service, ask } = await oneOf(['keys'], { member });
    const plain = await ask();
    expect(plain.reads['a']?.slice(0, 2)).toEqual(['G', 'C']);
    expect(staffOf(plain).played).toBeNull();
    const asked = staffOf(await ask('?played=a.C'));
    expect(asked.played).toMatchObject({ by: 'transpose button', amount: -5 });
    expect(asked.sheet.heading).toMatchObject({
      key: 'C major',
      played: { words: asked.played?.words, reminder: asked.played?.reminder },
    });
    await api
      .patch(`/api/services/${service.id}`)
      .set('if-match', tagOf(1))
      .send({ items: [songItem('a', song.id, { playedIn: { [ines.id]: 'F' } })] })
      .expect(200);
    expect(staffOf(await ask()).played).toMatchObject({ amount: 2 });
    // Asking for the sounding key puts the plan aside.
    expect(staffOf(await ask('?played=a.G')).played).toBeNull();
    expect(staffOf(await ask('?played=other.D')).played).toMatchObject({ amount: 2 });
  });

  it('lets nobody read in another key whose instrument cannot', async () => {
    const { ask } = await oneOf(['keys'], { item: {} });
    expect((await ask()).reads).toEqual({});
    expect(staffOf(await ask('?played=a.C')).played).toBeNull();
    const singer = await oneOf(['lead voice'], {
      member: { instruments: { transposeButton: true } },
    });
    expect(staffOf(await singer.ask('?played=a.C')).played).toBeNull();
  });

  it('writes a singer’s page for this week’s voice', async () => {
    const wide = { low: 'C3', high: 'C6' };
    const { api, ines, service, ask } = await oneOf(['lead voice'], {
      member: { comfortable: wide },
    });
    const easy = JSON.stringify(await ask());
    await api
      .patch(`/api/services/${service.id}`)
      .set('if-match', tagOf(1))
      .send({
        people: [{ member: ines.id, roles: ['lead voice'], voice: { low: 'D4', high: 'G4' } }],
      })
      .expect(200);
    const hoarse = JSON.stringify(await ask());
    expect(hoarse).not.toBe(easy);
    const kept = await api.get(`/api/members/${ines.id}`).expect(200);
    expect(kept.body.comfortable).toEqual(wide);
  });

  it('says why there is no page of a deleted song', async () => {
    const { api, song, ines, service } = await oneOf(['keys']);
    await api.delete(`/api/songs/${song.id}`).set('if-match', tagOf(1)).expect(204);
    const { pages } = await pagesOf(api, service.id, ines.id);
    const none = { kind: 'none', item: 'a', title: 'Amazing Grace', role: 'keys' };
    expect(pages).toMatchObject([none]);
    expect(pages[0]).toHaveProperty('reason', expect.stringContaining('was deleted'));
  });

  it('gives words where a song has no rhythm to write out, and says why', async () => {
    const own = await oneOf(['keys', 'lead voice']);
    const score = JSON.stringify({ ...own.song.score, untimed: true });
    await own.database.song.updateMany({ data: { score } });
    const { pages } = await own.ask();
    expect(kindsOf({ pages })).toEqual(['words keys']);
    const [page] = pages;
    expect(page?.kind === 'words' && page.sheet.remarks[0]).toMatch(/\.$/);
  });

  it('answers every refusal in words', async () => {
    const { api, ines, service, path } = await oneOf(['keys']);
    const bela = await addMember(api, { name: 'Bela' });
    expectProblem(await api.get(`/api/services/none/pages/${bela.id}`), 'no-such-service');
    expectProblem(await api.get(`/api/services/${service.id}/pages/${bela.id}`), 'no-such-person');
    for (const query of ['width=10', 'text=9', 'verse=0', 'played=a.H'])
      expectProblem(await api.get(`${path}?${query}`), 'invalid-input');
    await api.delete(`/api/members/${ines.id}`).set('if-match', tagOf(1)).expect(204);
    expectProblem(await api.get(path), 'no-such-person');
    await api.delete(`/api/services/${service.id}`).set('if-match', tagOf(1)).expect(204);
    expectProblem(await api.get(path), 'no-such-service');
  });

  it('answers in words when the engraver is busy, and does not keep that', async () => {
    const own = ownDatabase();
    const quick = quickRenderer();
    let busy = true;
    const renderer = {
      ...quick,
      engrave: (request: Parameters<typeof quick.engrave>[0]) =>
        busy ? Promise.reject(new RenderError('busy', 'inside')) : quick.engrave(request),
    };
    const { api } = await appFor(own, await own.store.addTeam('Mill Lane'), {}, renderer);
    const song = await bringHymn(api);
    const ines = await addMember(api, { name: 'Ines' });
    const service = await addService(api, {
      items: [songItem('a', song.id)],
      people: [{ member: ines.id, roles: ['keys'] }],
    });
    expectProblem(await api.get(`/api/services/${service.id}/pages/${ines.id}`), 'engraver-busy');
    busy = false;
    expect((await pagesOf(api, service.id, ines.id)).pages).toHaveLength(1);
  });

  it('does not mind a form that the song no longer has', async () => {
    const { api, database, song, ask } = await oneOf(['keys', 'leader']);
    await arrangementOf(api, song.id);
    const data = { form: JSON.stringify([{ section: 'gone', verse: null }]) };
    await database.serviceItem.updateMany({ data });
    expect(staffOf(await ask()).sheet.order).toBe('introduction once, then verses 1 to 7');
  });
});
