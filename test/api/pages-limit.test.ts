import { describe, expect, it } from 'vitest';
import { addMember, appFor, bringHymn, ownDatabase } from '#test/support/api.ts';
import { quickRenderer, songItem } from '#test/support/service.ts';
import { addService, makeLink, openLink } from '#test/support/visitors.ts';

/** A team with its singers, more than most have, each at a screen behind one address of the hall. */
const TEAM = 40;
const SECONDS = 60;

describe('GET /api/set/:link/pages/:member, asked for again and again from one address', () => {
  it('answers a whole team that reloads every second, stops a loop, and only that address', async () => {
    const own = ownDatabase();
    const { api, app } = await appFor(own, await own.store.addTeam('Mill Lane'), {}, quickRenderer()); // prettier-ignore
    const song = await bringHymn(api);
    const ines = await addMember(api, { name: 'Ines' });
    const { id } = await addService(api, {
      items: [songItem('item-0', song.id)],
      people: [{ member: ines.id, roles: ['keys'] }],
    });
    const made = await makeLink(api, id);
    const cookie = await openLink(api, made);
    const url = `/api/set/${made.link.id}/pages/${ines.id}`;
    const ask = (remoteAddress: string, headers = { cookie }) =>
      app.inject({ method: 'GET', url, remoteAddress, headers });

    // A stranger without the link is refused as ever, and uses up nobody's share.
    for (let time = 0; time < 100; time += 1)
      expect((await ask('192.168.1.7', { cookie: '' })).statusCode).toBe(404);

    for (let time = 0; time < TEAM * SECONDS; time += 1) {
      const { statusCode } = await ask('192.168.1.7');
      if (statusCode !== 200) expect([time, statusCode]).toEqual([time, 200]);
    }
    let answer = await ask('192.168.1.7');
    for (let more = 0; more < 1000 && answer.statusCode === 200; more += 1)
      answer = await ask('192.168.1.7');
    expect(answer.statusCode).toBe(429);
    expect(answer.headers['content-type']).toContain('application/problem+json');
    expect(answer.json()).toMatchObject({ code: 'too-many-attempts' });
    expect(answer.json<{ detail: string }>().detail).toContain('asked for too often');
    // RFC 9110, 10.2.3.
    expect(Number(answer.headers['retry-after'])).toBeGreaterThan(0);
    expect(Number(answer.headers['retry-after'])).toBeLessThanOrEqual(60);
    expect((await ask('192.168.1.8')).statusCode).toBe(200);
  }, 60_000);
});
