import { createHash } from 'node:crypto';
import supertest from 'supertest';
import { describe, expect, it, vi } from 'vitest';
import { ownDatabase, tagOf } from '#test/support/api.ts';
import { addressOf, startProgram } from '#test/support/program.ts';
import {
  addService,
  ELSEWHERE,
  makeLink,
  openLink,
  PASSPHRASE,
  setPassphrase,
  signIn,
} from '#test/support/visitors.ts';

// A program of its own is started from its source.
vi.setConfig({ testTimeout: 90_000 });

const hashOf = (secret: string) => createHash('sha256').update(secret).digest('base64url');

describe('what the program writes', () => {
  it('never holds a secret, a cookie, a passphrase or what is kept of them, even when it fails', async () => {
    const { url, store, database } = ownDatabase();
    await store.addTeam('Mill Lane');
    const started = startProgram({ DATABASE_URL: url, PORT: '0' });
    const address = await addressOf(started);
    const api = supertest(address);

    const service = await addService(api);
    // It keeps the real time, so a link of its own end.
    const made = await makeLink(api, service.id, { endsAt: '2999-01-01T00:00:00.000Z' });
    const held = await openLink(api, made);
    await setPassphrase(api);
    const cookie = await signIn(api);
    const { passphrase = '' } = await database.team.findFirstOrThrow();
    const path = `/api/set/${made.link.id}`;
    const wrong = 'a passphrase that is wrong';
    await api.post('/api/access/session').send({ passphrase: wrong }).expect(403);
    await api.post('/api/access/session').send({ passphrase: 'short' }).expect(403);
    await api
      .post(`${path}/session`)
      .send({ secret: `${made.secret}x` })
      .expect(404);
    await api.post(`${path}/session`).send({ secret: 'cut off' }).expect(400);
    await api.get(path).set('cookie', held).expect(200);

    // The tables go, so that whatever is asked next fails inside.
    await database.$executeRawUnsafe('ALTER TABLE "LeaderSession" RENAME TO "Gone"');
    await database.$executeRawUnsafe('ALTER TABLE "SetLink" RENAME TO "GoneToo"');
    const failing = [
      api.get('/api/songs').set('cookie', cookie),
      api.post('/api/access/session').send({ passphrase: PASSPHRASE }),
      api.delete('/api/access/session').set('cookie', cookie),
      api.get(path).set(ELSEWHERE).set('cookie', held),
      api.post(`${path}/session`).set(ELSEWHERE).send({ secret: made.secret }),
      api.put(`${path}/people/x/range`).set('cookie', held).set('if-match', tagOf(1)),
    ];
    const secrets = [
      PASSPHRASE,
      wrong,
      passphrase ?? '',
      made.secret,
      hashOf(made.secret),
      cookie.split('=')[1] ?? '',
      hashOf(cookie.split('=')[1] ?? ''),
    ];
    for (const each of failing) {
      const { text } = await each.expect(500);
      for (const secret of secrets) expect(text).not.toContain(secret);
    }
    await vi.waitFor(() =>
      expect(started.said().match(/"level":50/g)?.length).toBe(failing.length),
    );
    for (const secret of secrets) {
      expect(secret.length).toBeGreaterThan(20);
      expect(started.said()).not.toContain(secret);
    }
    expect(started.said()).not.toMatch(/partbook-(leader|set)=/);
  });
});
