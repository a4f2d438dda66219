import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { ownApp } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import {
  ELSEWHERE,
  givenCookie,
  PASSPHRASE,
  setPassphrase,
  signIn,
} from '#test/support/visitors.ts';

const DAY = 24 * 60 * 60 * 1000;

describe('without a passphrase', () => {
  it('the leader’s side is open to this machine and says so', async () => {
    const { api } = await ownApp();
    await api.get('/api/songs').expect(200);
    const { body, headers } = await api.get('/api/access').expect(200);
    expect(body).toEqual({ passphrase: false, may: true, here: true });
    expect(headers['cache-control']).toBe('no-store');
  });

  it('another machine is told what to do, by whichever header it is passed on', async () => {
    const { api } = await ownApp();
    for (const header of [
      'x-forwarded-for',
      'x-forwarded-host',
      'forwarded',
      'x-real-ip',
      'via',
    ] as const) {
      const problem = expectProblem(
        await api.get('/api/songs').set(header, '192.168.1.77'),
        'only-this-machine',
      );
      expect(problem.detail).toContain('Open it there and set one');
    }
    const { body } = await api.get('/api/access').set(ELSEWHERE).expect(200);
    expect(body).toEqual({ passphrase: false, may: false, here: false });
  });

  it.each([
    ['127.0.0.1', 200],
    ['127.8.9.1', 200],
    ['::1', 200],
    ['::ffff:127.0.0.1', 200],
    ['192.168.1.77', 403],
    ['::ffff:192.168.1.77', 403],
    ['fe80::1', 403],
    ['10.127.0.1', 403],
  ])('a request from %s is answered %i', async (remoteAddress, status) => {
    const { app } = await ownApp();
    expect((await app.inject({ url: '/api/songs', remoteAddress })).statusCode).toBe(status);
  });

  it('a request under the public address is not from this machine, whoever passed it on', async () => {
    const { api } = await ownApp({ publicAddress: 'https://team.example' });
    const asked = api.get('/api/songs').set('host', 'team.example');
    expectProblem(await asked, 'only-this-machine');
    await api.get('/api/songs').set('host', 'localhost:3000').expect(200);
  });

  it('another machine can neither set one nor sign in', async () => {
    const { api } = await ownApp();
    const set = api.put('/api/access/passphrase').set(ELSEWHERE).send({ passphrase: PASSPHRASE });
    expectProblem(await set, 'only-this-machine');
    const answer = await api
      .post('/api/access/session')
      .set(ELSEWHERE)
      .send({ passphrase: PASSPHRASE })
      .expect(204);
    expect(answer.headers).not.toHaveProperty('set-cookie');
    expect((await api.get('/api/access')).body.passphrase).toBe(false);
  });
});

describe('PUT /api/access/passphrase', () => {
  it('shuts the leader’s side to everybody but the browser that set it', async () => {
    const { api } = await ownApp();
    const answer = await api
      .put('/api/access/passphrase')
      .send({ passphrase: PASSPHRASE })
      .expect(204);
    const { pair, attributes } = givenCookie(answer, 'partbook-leader');
    expect(attributes).toEqual(['HttpOnly', 'Max-Age=2592000', 'Path=/', 'SameSite=Strict']);
    await api.get('/api/songs').set('cookie', pair).expect(200);
    await api.get('/api/songs').set(ELSEWHERE).set('cookie', pair).expect(200);
    expectProblem(await api.get('/api/songs'), 'not-signed-in');
    expectProblem(await api.get('/api/songs').set(ELSEWHERE), 'not-signed-in');
    expect((await api.get('/api/access')).body).toEqual({
      passphrase: true,
      may: false,
      here: true,
    });
  });

  it('keeps an argon2id hash and the hash of the session, and neither secret', async () => {
    const { api, database } = await ownApp();
    const cookie = await setPassphrase(api);
    const team = await database.team.findFirstOrThrow();
    // PHC string of argon2id; 19 MiB, 2 passes, 1 lane: OWASP Password Storage Cheat Sheet, "Argon2id".
    expect(team.passphrase).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$[\w+/]{22}\$[\w+/]{43}$/);
    const [session] = await database.leaderSession.findMany();
    const secret = cookie.split('=')[1] ?? '';
    expect(Buffer.from(secret, 'base64url')).toHaveLength(32);
    expect(session?.secretHash).toBe(createHash('sha256').update(secret).digest('base64url'));
    const kept = JSON.stringify([team, session]);
    for (const word of [PASSPHRASE, secret]) expect(kept).not.toContain(word);
  });

  it('asks for the one before it, and ends every other session', async () => {
    const { api } = await ownApp();
    const mine = await setPassphrase(api);
    const other = await signIn(api);
    const next = 'a slower kettle sings';
    const change = (body: object) =>
      api.put('/api/access/passphrase').set('cookie', mine).send(body);
    expectProblem(await change({ passphrase: next }), 'wrong-passphrase');
    expectProblem(await change({ passphrase: next, current: next }), 'wrong-passphrase');
    await api.get('/api/songs').set('cookie', other).expect(200);
    const answer = await change({ passphrase: next, current: PASSPHRASE }).expect(204);
    const renewed = givenCookie(answer, 'partbook-leader').pair;
    await api.get('/api/songs').set('cookie', renewed).expect(200);
    for (const old of [mine, other]) {
      expectProblem(await api.get('/api/songs').set('cookie', old), 'not-signed-in');
    }
    const said = (passphrase: string) => api.post('/api/access/session').send({ passphrase });
    expectProblem(await said(PASSPHRASE), 'wrong-passphrase');
    await said(next).expect(204);
  });

  it('takes it away for whoever knows it: open on this machine again, and only there', async () => {
    const { api, database } = await ownApp();
    const cookie = await setPassphrase(api);
    const away = (body: object) =>
      api.put('/api/access/passphrase').set('cookie', cookie).send(body);
    expectProblem(await away({ passphrase: null }), 'wrong-passphrase');
    const answer = await away({ passphrase: null, current: PASSPHRASE }).expect(204);
    expect(givenCookie(answer, 'partbook-leader').value).toBe('');
    await api.get('/api/songs').expect(200);
    const old = api.get('/api/songs').set(ELSEWHERE).set('cookie', cookie);
    expectProblem(await old, 'only-this-machine');
    expect(await database.leaderSession.count()).toBe(0);
  });

  it('takes fifteen characters, as code points (NIST SP 800-63B-4, 3.1.1.2) after NFKC', async () => {
    const { api } = await ownApp();
    const put = (passphrase: string) => api.put('/api/access/passphrase').send({ passphrase });
    for (const passphrase of ['', 'x'.repeat(14), '👋'.repeat(14), 'e\u0301'.repeat(14)]) {
      const problem = expectProblem(await put(passphrase), 'invalid-input');
      expect(problem.problems?.[0]?.field).toBe('passphrase');
      expect(problem.detail).toMatch(/15 to 200 characters|has 14 characters; at least 15/);
      if (passphrase !== '') expect(problem.detail).not.toContain(passphrase);
    }
    expect((await api.get('/api/access')).body.passphrase).toBe(false);
    await put('👋'.repeat(15)).expect(204);
  });

  it('answers 413 and 415 as every write does, and refuses other pages', async () => {
    const { api } = await ownApp();
    const put = () => api.put('/api/access/passphrase');
    expectProblem(await put().send({ passphrase: 'x'.repeat(2 ** 21) }), 'too-large');
    expectProblem(await put().type('text/plain').send('a'), 'wrong-media-type');
    const other = put().set('sec-fetch-site', 'cross-site').send({ passphrase: PASSPHRASE });
    expectProblem(await other, 'cross-site');
  });
});

describe('POST /api/access/session', () => {
  it('opens the leader’s side for thirty days', async () => {
    let now = new Date('2026-03-01T10:00:00Z');
    const { api, database } = await ownApp({}, { now: () => now });
    await setPassphrase(api);
    const cookie = await signIn(api);
    now = new Date(now.getTime() + 30 * DAY - 1);
    await api.get('/api/songs').set('cookie', cookie).expect(200);
    now = new Date(now.getTime() + 1);
    expectProblem(await api.get('/api/songs').set('cookie', cookie), 'not-signed-in');
    await signIn(api);
    expect(await database.leaderSession.count(), 'ended sessions are cleared away').toBe(1);
  });

  it('gives the cookie for TLS only where the browser came by it', async () => {
    const { api } = await ownApp({ publicAddress: 'https://team.example' });
    await setPassphrase(api);
    const from = async (host: string) => {
      const answer = await api
        .post('/api/access/session')
        .set('host', host)
        .send({ passphrase: PASSPHRASE });
      return givenCookie(answer, 'partbook-leader').attributes.includes('Secure');
    };
    expect([await from('team.example'), await from('localhost:3000')]).toEqual([true, false]);
  });

  it('takes the same letters however a keyboard composes them (NFKC)', async () => {
    const { api } = await ownApp();
    await setPassphrase(api, 'cafe\u0301 at the mill lane');
    await signIn(api, 'caf\u00e9 at the mill lane');
  });

  it('says the same of whatever is wrong', async () => {
    const { api } = await ownApp();
    await setPassphrase(api);
    const said = new Set<string>();
    for (const passphrase of [
      'x',
      PASSPHRASE.toUpperCase(),
      `${PASSPHRASE} `,
      PASSPHRASE.slice(1),
    ]) {
      const answer = await api.post('/api/access/session').send({ passphrase });
      said.add(expectProblem(answer, 'wrong-passphrase').detail);
      expect(answer.headers).not.toHaveProperty('set-cookie');
    }
    expect(said.size).toBe(1);
  });

  it('lets nobody try more than ten times in a quarter of an hour, and says how long to wait', async () => {
    const { api } = await ownApp();
    const cookie = await setPassphrase(api);
    const attempt = () => api.post('/api/access/session').send({ passphrase: 'a wrong one' });
    for (let time = 2; time <= 10; time += 1) expect((await attempt()).status).toBe(403);
    const answer = await attempt();
    expect(expectProblem(answer, 'too-many-attempts').detail).toContain('15 minutes');
    expect(Number(answer.headers['retry-after'])).toBeGreaterThan(880);
    expect(Number(answer.headers['retry-after'])).toBeLessThanOrEqual(900);
    const right = api.post('/api/access/session').send({ passphrase: PASSPHRASE });
    expectProblem(await right, 'too-many-attempts');
    const change = api
      .put('/api/access/passphrase')
      .set('cookie', cookie)
      .send({ passphrase: null, current: 'a guess' });
    expectProblem(await change, 'too-many-attempts');
    await api.get('/api/songs').set('cookie', cookie).expect(200);
  });

  it('does not count what others send through a proxy on this machine against the machine itself', async () => {
    const { api } = await ownApp();
    await setPassphrase(api);
    const far = () =>
      api.post('/api/access/session').set(ELSEWHERE).send({ passphrase: 'a wrong one' });
    for (let time = 1; time <= 10; time += 1) expect((await far()).status).toBe(403);
    expectProblem(await far(), 'too-many-attempts');
    await signIn(api);
  });

  it('lets all other machines together try a hundred times an hour, and this one still', async () => {
    const { app, api } = await ownApp();
    await setPassphrase(api);
    const from = (remoteAddress: string) =>
      app.inject({
        method: 'POST',
        url: '/api/access/session',
        remoteAddress,
        // Not JSON that fits: it counts as an attempt and costs no hash.
        payload: { passphrase: '' },
      });
    const counts = new Map<number, number>();
    for (let machine = 1; machine <= 101; machine += 1) {
      const { statusCode } = await from(`192.168.1.${machine}`);
      counts.set(statusCode, (counts.get(statusCode) ?? 0) + 1);
    }
    expect(Object.fromEntries(counts)).toEqual({ 400: 100, 429: 1 });
    await signIn(api);
  });

  it('answers 413 and 415 as every write does', async () => {
    const { api } = await ownApp();
    const post = () => api.post('/api/access/session');
    expectProblem(await post().send({ passphrase: 'x'.repeat(2 ** 21) }), 'too-large');
    expectProblem(await post().type('text/plain').send('a'), 'wrong-media-type');
    expectProblem(await post().send({}), 'invalid-input');
  });
});

describe('DELETE /api/access/session', () => {
  it('ends the session on the server and takes the cookie', async () => {
    const { api, database } = await ownApp();
    const cookie = await setPassphrase(api);
    const answer = await api.delete('/api/access/session').set('cookie', cookie).expect(204);
    const { value, attributes } = givenCookie(answer, 'partbook-leader');
    expect([value, attributes.includes('Max-Age=0')]).toEqual(['', true]);
    expectProblem(await api.get('/api/songs').set('cookie', cookie), 'not-signed-in');
    expect(await database.leaderSession.count()).toBe(0);
    await api.delete('/api/access/session').expect(204);
  });
});

describe('what is not listed as reachable', () => {
  it('is refused though there is nothing there', async () => {
    const { api } = await ownApp();
    await setPassphrase(api);
    for (const path of ['/api', '/api/', '/api/none', '/api/songs/x/none', '/api/setx/none']) {
      expectProblem(await api.get(path), 'not-signed-in');
    }
    expectProblem(await api.put('/api/songs').send({}), 'not-signed-in');
    expectProblem(await api.post('/songs').send({}), 'not-signed-in');
    expectProblem(await api.get('/none.js'), 'not-found');
  });

  it.each([
    '/api/songs?x=/api/health',
    '/api/%73ongs',
    '//api/songs',
    '/api//songs',
    '/API/songs',
    '/api/songs/',
    '/api/set/x/../../songs',
    '/api/songs;/api/health',
  ])('cannot be reached as %s', async (url) => {
    const { app, api } = await ownApp();
    await setPassphrase(api);
    const { statusCode, body } = await app.inject({ url, remoteAddress: '192.168.1.77' });
    expect([401, 404]).toContain(statusCode);
    expect(body).not.toContain('songs":');
  });
});
