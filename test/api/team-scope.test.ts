import { describe, expect, it } from 'vitest';
import type { Service } from '#server/contract/services.ts';
import type { Song } from '#server/contract/songs.ts';
import {
  addMember,
  appFor,
  arrangementOf,
  bringHymn,
  ownApp,
  tagOf,
  type TestApp,
} from '#test/support/api.ts';
import { addService, patchService } from '#test/support/planned-service.ts';
import { expectProblem } from '#test/support/problem.ts';

interface TwoTeams {
  readonly ours: TestApp;
  readonly theirs: TestApp['api'];
  readonly song: Song;
  readonly member: { readonly id: string };
  readonly service: Service;
}

/** Two teams in one database; the song, the member and the service are ours. */
async function twoTeams(): Promise<TwoTeams> {
  const ours = await ownApp();
  const { api: theirs } = await appFor(ours, await ours.store.addTeam('Hill Road'));
  const song = await bringHymn(ours.api);
  const member = await addMember(ours.api, { name: 'Ruth' });
  const service = await addService(ours.api, {
    date: '2026-03-08',
    items: [{ id: 'a', kind: 'song', song: song.id, lead: member.id }],
    people: [{ member: member.id, roles: ['lead voice'] }],
  });
  return { ours, theirs, song, member, service };
}

describe('another team', () => {
  it('sees its own name and none of our songs, members and services', async () => {
    const { ours, theirs } = await twoTeams();
    expect((await theirs.get('/api/team')).body.name).toBe('Hill Road');
    expect((await ours.api.get('/api/team')).body.name).toBe('Mill Lane');
    for (const query of ['', '?deleted=1']) {
      expect((await theirs.get(`/api/songs${query}`)).body).toEqual({ songs: [] });
      expect((await theirs.get(`/api/members${query}`)).body).toEqual({ members: [] });
      expect((await theirs.get(`/api/services${query}`)).body).toEqual({ services: [] });
    }
  });

  it('is told that our things do not exist, whatever it asks of them by id', async () => {
    const { ours, theirs, song, member, service } = await twoTeams();
    const of = [
      `/api/songs/${song.id}`,
      `/api/members/${member.id}`,
      `/api/services/${service.id}`,
    ];
    const reads = [...of, `/api/songs/${song.id}/source`, `/api/songs/${song.id}/arrangement`];
    for (const path of reads) expect((await theirs.get(path)).status, path).toBe(404);
    for (const path of of) {
      expect((await theirs.delete(path).set('if-match', tagOf(1))).status, path).toBe(404);
      expect((await theirs.post(`${path}/restore`)).status, path).toBe(404);
    }
    const writes: [string, object][] = [
      [`/api/songs/${song.id}`, { chord: { at: 0, symbol: 'C' } }],
      [`/api/members/${member.id}`, { name: 'Stolen' }],
      [`/api/songs/${song.id}/arrangement`, { density: 'beat' }],
      [`/api/services/${service.id}`, { title: 'Stolen', items: [], people: [] }],
    ];
    for (const [path, change] of writes) {
      const answer = await theirs.patch(path).set('if-match', tagOf(1)).send(change);
      expect(answer.status, path).toBe(404);
    }
    expect((await ours.api.get(`/api/songs/${song.id}`)).body).toEqual(song);
    expect((await ours.api.get(`/api/members/${member.id}`)).body).toEqual(member);
    expect((await ours.api.get(`/api/services/${service.id}`)).body).toEqual(service);
    const begun = await theirs.post('/api/services').send({ date: '2026-03-15', from: service.id });
    expectProblem(begun, 'no-such-service');
  });

  it('cannot name our songs and members in its services', async () => {
    const { theirs, song, member } = await twoTeams();
    const own = await addService(theirs, { date: '2026-03-08' });
    const items = [{ id: 'a', kind: 'song', song: song.id }];
    expectProblem(await patchService(theirs, own, { items }), 'unknown-song');
    const readings = [{ id: 'a', kind: 'reading', lead: member.id }];
    expectProblem(await patchService(theirs, own, { items: readings }), 'unknown-member');
    const people = [{ member: member.id, roles: [] }];
    expectProblem(await patchService(theirs, own, { people }), 'unknown-member');
    expect((await theirs.get(`/api/services/${own.id}`)).body).toEqual(own);
  });

  it('keeps an order of its own in which the lines are called as ours are', async () => {
    const { ours, theirs, service } = await twoTeams();
    const items = [{ id: 'a', kind: 'prayer' as const }];
    const own = await addService(theirs, { date: '2026-03-08', items });
    await patchService(theirs, own, { items: [] }).expect(200);
    expect((await ours.api.get(`/api/services/${service.id}`)).body).toEqual(service);
  });

  it('is renamed alone', async () => {
    const { ours, theirs } = await twoTeams();
    await theirs.patch('/api/team').set('if-match', tagOf(1)).send({ name: 'Hall' }).expect(200);
    expect((await ours.api.get('/api/team')).body).toMatchObject({ name: 'Mill Lane', version: 1 });
  });

  it('cannot name our members in its arrangements', async () => {
    const { theirs, member } = await twoTeams();
    const own = await bringHymn(theirs);
    const answer = await theirs
      .patch(`/api/songs/${own.id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ singers: [member.id] });
    expectProblem(answer, 'unknown-member');
    expect((await arrangementOf(theirs, own.id)).singers).toEqual([]);
  });
});

describe('the database itself', () => {
  it('refuses to tie one team’s row to another’s', async () => {
    const { ours, theirs, member } = await twoTeams();
    const own = await bringHymn(theirs);
    const arrangement = await ours.database.arrangement.findFirstOrThrow({
      where: { songId: own.id },
    });
    const tie = ours.database.arrangementSinger.create({
      data: {
        teamId: arrangement.teamId,
        arrangementId: arrangement.id,
        memberId: member.id,
        position: 0,
      },
    });
    await expect(tie).rejects.toMatchObject({ code: 'P2003' });
  });
});

describe('the store', () => {
  it('runs no statement on a team’s rows that does not name the team', async () => {
    const { ours, song, member, service } = await twoTeams();
    ours.statements();
    await ours.api.get('/api/songs').expect(200);
    await ours.api.get(`/api/songs/${song.id}`).expect(200);
    await ours.api.get('/api/members').expect(200);
    await ours.api
      .patch(`/api/songs/${song.id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ lead: member.id })
      .expect(200);
    await ours.api.get('/api/services').expect(200);
    const { items, people } = service;
    await patchService(ours.api, service, { title: 'Easter', items, people }).expect(200);
    await addService(ours.api, { date: '2026-03-15', from: service.id });
    await ours.api.delete(`/api/members/${member.id}`).set('if-match', tagOf(1)).expect(204);
    const rows = ours.statements().filter((sql) => /^(SELECT|UPDATE|DELETE|INSERT)/.test(sql));
    expect(rows.length).toBeGreaterThan(8);
    const unscoped = rows.filter((sql) => !/[`"](teamId|Team)[`"]/.test(sql));
    expect(unscoped).toEqual([]);
  });
});
