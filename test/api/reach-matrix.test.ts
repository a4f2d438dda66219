import type { InjectOptions } from 'fastify';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { ownApp } from '#test/support/api.ts';
import { routesOf, sent, type Route, type Sent } from '#test/support/reach-routes.ts';
import { sceneFor, storedOf, UNKNOWN, WORDS, type Asker, type Scene } from '#test/support/reach.ts';
import { PASSPHRASE } from '#test/support/visitors.ts';

// Every route with everything it may be asked for, engraving included.
vi.setConfig({ testTimeout: 120_000 });

const asker = (who: string, facts: Partial<Asker> = {}): Asker => ({
  who,
  from: 'another machine',
  locked: true,
  session: 'none',
  link: 'none',
  ...facts,
});

const ASKERS: readonly Asker[] = [
  asker('this machine, without a passphrase', { from: 'this machine', locked: false }),
  asker('another machine, without a passphrase', { locked: false }),
  asker('this machine, without a session', { from: 'this machine' }),
  asker('a wrong session', { session: 'wrong' }),
  asker('an ended session', { session: 'ended' }),
  asker('a good session', { session: 'good' }),
  asker('who holds this link', { link: 'this' }),
  asker('who holds this link, without a passphrase', { link: 'this', locked: false }),
  asker('who holds another link', { link: 'another' }),
  asker('who holds a link that was taken back', { link: 'revoked' }),
  asker('who holds a link that has ended', { link: 'ended' }),
  asker('nobody'),
];

/** Ours; the other team's; none; ours, but naming what is theirs. */
const OBJECTS = ['own', 'theirs', 'unknown', 'own with theirs'] as const;
type ObjectKind = (typeof OBJECTS)[number];

/** What is everybody's: that the program runs, what a refusal means, and the door itself. */
const EVERYBODYS = /^\/api\/(health|problems\/\{code\}|access|access\/session)$/;

const leads = ({ locked, session, from }: Asker): boolean =>
  locked ? session === 'good' : from === 'this machine';

/**
 * The one rule: a set route opens what its link opens to whoever holds it; everybody's routes are open; all others are
 * the leader's. Of what is not theirs to know of, people are told that it does not exist.
 */
function expectedOf({ method, path }: Route, who: Asker, object: ObjectKind): readonly number[] {
  const there = object === 'own';
  if (path.startsWith('/api/set/')) {
    if (method === 'delete') return [204];
    const held = object === 'own' || object === 'own with theirs' ? who.link : 'none';
    if (held === 'revoked' || held === 'ended') return [410];
    return held === 'this' && there ? [200, 204] : [404];
  }
  if (EVERYBODYS.test(path)) {
    const isDoor = method === 'post';
    if (isDoor && who.locked && !leads(who)) return [403];
    return there ? [200, 204] : [404];
  }
  if (!leads(who)) return [who.locked ? 401 : 403];
  return there ? [200, 201, 204] : [404, 422];
}

/** The version of whatever a path names, of whichever team: a scope that is forgotten must not be saved by a 412. */
async function versionOf({ database }: Scene, url: string): Promise<number> {
  const [, , room = '', id = '', part] = url.split('?')[0]?.split('/') ?? [];
  const where = { id };
  const rooms: Readonly<Record<string, () => Promise<{ readonly version: number } | null>>> = {
    team: () => database.team.findFirst({ where: { name: 'Mill Lane' } }),
    songs: () =>
      part === 'arrangement'
        ? database.arrangement.findFirst({ where: { songId: id } })
        : database.song.findFirst({ where }),
    members: () => database.member.findFirst({ where }),
    services: () => database.service.findFirst({ where }),
    links: () => database.setLink.findFirst({ where }),
  };
  const found = await rooms[room]?.();
  return found?.version ?? 1;
}

async function ask(scene: Scene, who: Asker, { method }: Route, { url, body }: Sent) {
  const version = await versionOf(scene, url);
  const options: InjectOptions = {
    method: method.toUpperCase() as 'GET',
    url,
    remoteAddress: who.from === 'this machine' ? '127.0.0.1' : '192.168.1.77',
    headers: {
      cookie: scene.jar.header,
      'if-match': `"v${version}"`,
      ...(Buffer.isBuffer(body) && { 'content-type': 'application/zip' }),
    },
    ...(body && { payload: body }),
  };
  const answer = await scene.app.inject(options);
  for (const { name, value } of answer.cookies) {
    if (name === 'partbook-leader') scene.jar.keep(`${name}=${value}`);
  }
  return answer;
}

/** Words that an answer may not hold. */
function forbidden(scene: Scene, who: Asker): readonly string[] {
  const always = [...WORDS.theirs, ...scene.hidden];
  if (leads(who)) return always;
  return who.link === 'this'
    ? [...always, ...WORDS.leaders]
    : [...always, ...WORDS.leaders, ...WORDS.shown];
}

/** A cookie is for whoever says the passphrase, or the secret of a link that is open. */
function mayGetCookie({ path }: Route, who: Asker): boolean {
  return path.startsWith('/api/access') ? leads(who) : who.link !== 'none';
}

const counted = { cells: 0, leaks: 0 };

afterAll(() => {
  process.stdout.write(`reach matrix: ${counted.cells} cells, ${counted.leaks} leaks\n`);
});

describe('every route, whoever asks, for whatever', () => {
  it.each(ASKERS.map((each) => [each.who, each] as const))('%s', async (_, who) => {
    const scene = await sceneFor(who);
    const { own, theirs, secret } = scene;
    const routes = await routesOf((await ownApp()).api);
    const said = leads(who) ? PASSPHRASE : 'a guess at the passphrase';
    const theirRows = await storedOf(scene, scene.theirTeam);
    const allRows = await storedOf(scene);
    const sessions = await scene.database.leaderSession.count();
    const words = forbidden(scene, who);
    const wrong: string[] = [];

    for (const route of routes) {
      const build = (object: ObjectKind): Sent => {
        const first = { own, theirs, unknown: UNKNOWN, 'own with theirs': own }[object];
        const rest = object === 'own with theirs' ? theirs : first;
        return sent(route, first, rest, { secret, said });
      };
      const plain = JSON.stringify(build('own'));
      // What is ours comes last: it may be gone afterwards.
      for (const object of [...OBJECTS].reverse()) {
        const what = build(object);
        if (object !== 'own' && JSON.stringify(what) === plain) continue;
        counted.cells += 1;
        const answer = await ask(scene, who, route, what);
        const cell = `${route.method} ${route.path}, ${object}: ${answer.statusCode}`;
        const expected = expectedOf(route, who, object);
        if (!expected.includes(answer.statusCode)) {
          wrong.push(`${cell}, not ${expected.join(' or ')} ${answer.body.slice(0, 200)}`);
        }
        const given = answer.cookies.filter(({ value }) => value !== '');
        if (given.length > 0 && !mayGetCookie(route, who)) wrong.push(`${cell} gives a cookie`);
        const heads = { ...answer.headers, 'set-cookie': null };
        const all = `${JSON.stringify(heads)}${answer.body}`;
        const told = words.filter((word) => all.includes(word));
        counted.leaks += told.length;
        if (told.length > 0) wrong.push(`${cell} says ${told.join(', ')}`);
      }
    }

    expect(wrong).toEqual([]);
    expect(await storedOf(scene, scene.theirTeam), 'the other team’s rows').toBe(theirRows);
    if (leads(who)) return;
    expect(await scene.database.leaderSession.count()).toBeLessThanOrEqual(sessions);
    if (who.link !== 'this') expect(await storedOf(scene), 'all rows').toBe(allRows);
  });
});
