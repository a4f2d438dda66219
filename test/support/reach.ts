import type { FastifyInstance } from 'fastify';
import type { MadeSetLink } from '#server/contract/links.ts';
import { addMember, appFor, ownApp, tagOf, type TestApp } from '#test/support/api.ts';
import { addService, makeLink, setPassphrase, signIn } from '#test/support/visitors.ts';

type Api = TestApp['api'];

/** One of each thing that a team has. */
export interface Things {
  readonly song: string;
  readonly member: string;
  readonly service: string;
  readonly link: string;
  readonly code: string;
}

export const UNKNOWN: Things = {
  song: 'no-such-id',
  member: 'no-such-id',
  service: 'no-such-id',
  link: 'no-such-id',
  code: 'no-such-code',
};

/** Words that stand in the stored things and nowhere else, by who may read them. */
export const WORDS = {
  /** Nobody here: the other team's. */
  theirs: ['Hill Road', 'Quillfeather', 'Thistle-Song', 'Vigil-Night', 'Barn-Place'],
  /** The leader alone. */
  leaders: ['Tabitha', 'Evening-Hush', 'Note-for-leaders', 'Wilfred', 'Wren-Song'],
  /** The leader, and whoever holds the link of that service. */
  shown: ['Mill Lane', 'Morning-Glory', 'Ruthanna', 'Lark-Song', 'Hall-Place'],
} as const;

const tune = (title: string) =>
  `X:1\nT:${title}\nM:4/4\nL:1/4\nK:C\n"C"CDEF|"G"G4|]\nw:one two three four five\n`;

export async function bringTune(api: Api, title: string): Promise<string> {
  const answer = await api
    .post('/api/songs')
    .send({ format: 'abc', text: tune(title) })
    .expect(201);
  return (answer.body as { id: string }).id;
}

/** How somebody comes: what they hold, and from where. */
export interface Asker {
  readonly who: string;
  readonly from: 'this machine' | 'another machine';
  readonly locked: boolean;
  readonly session: 'none' | 'wrong' | 'ended' | 'good';
  readonly link: 'none' | 'this' | 'another' | 'revoked' | 'ended';
}

/** Cookies as a browser keeps them. */
export class Jar {
  readonly #cookies = new Map<string, string>();

  keep(pair: string): void {
    const at = pair.indexOf('=');
    const [name, value] = [pair.slice(0, at), pair.slice(at + 1)];
    if (value === '') this.#cookies.delete(name);
    else this.#cookies.set(name, value);
  }

  get header(): string {
    return [...this.#cookies].map(([name, value]) => `${name}=${value}`).join('; ');
  }
}

export interface Scene {
  readonly app: FastifyInstance;
  readonly database: TestApp['database'];
  readonly theirTeam: string;
  readonly own: Things;
  readonly theirs: Things;
  readonly jar: Jar;
  /** The secret of the link that is held, or a guess. */
  readonly secret: string;
  /** Hashes and secrets: no answer may say them. */
  readonly hidden: readonly string[];
}

async function sceneOfTheirs(api: Api): Promise<{ things: Things; made: MadeSetLink }> {
  const member = await addMember(api, { name: 'Quillfeather', roles: ['keys'] });
  const song = await bringTune(api, 'Thistle-Song');
  const service = await addService(api, {
    title: 'Vigil-Night',
    place: 'Barn-Place',
    items: [{ id: 'a', kind: 'song', song, lead: member.id }],
    people: [{ member: member.id, roles: ['keys', 'lead voice'] }],
  });
  const made = await makeLink(api, service.id, { marksRanges: true });
  return {
    things: { song, member: member.id, service: service.id, link: made.link.id, code: 'none' },
    made,
  };
}

/** Two teams in one database, and somebody who comes to the first. */
export async function sceneFor(asker: Asker): Promise<Scene> {
  const ours = await ownApp();
  const { api, app, database } = ours;
  const theirTeam = await ours.store.addTeam('Hill Road');
  const { things: theirs, made: theirLink } = await sceneOfTheirs(
    (await appFor(ours, theirTeam)).api,
  );

  const ruth = await addMember(api, { name: 'Ruthanna', roles: ['keys', 'lead voice'] });
  const child = await addMember(api, { name: 'Tabitha', child: true, roles: ['harmony voice'] });
  await addMember(api, { name: 'Wilfred' });
  const song = await bringTune(api, 'Lark-Song');
  const other = await bringTune(api, 'Wren-Song');
  const service = await addService(api, {
    title: 'Morning-Glory',
    place: 'Hall-Place',
    items: [
      { id: 'a', kind: 'song', song, lead: child.id },
      { id: 'b', kind: 'prayer', title: 'Prayer', note: 'Note-for-leaders' },
    ],
    people: [
      { member: ruth.id, roles: ['keys', 'lead voice'] },
      { member: child.id, roles: ['harmony voice'] },
    ],
  });
  const evening = await addService(api, {
    title: 'Evening-Hush',
    items: [{ id: 'a', kind: 'song', song: other }],
  });
  const made = await makeLink(api, service.id, { marksRanges: true });
  const another = await makeLink(api, evening.id);
  const change = asker.link === 'revoked' ? { revoked: true } : { endsAt: '2026-02-01T00:00:00Z' };
  if (asker.link === 'revoked' || asker.link === 'ended') {
    const patch = api.patch(`/api/links/${made.link.id}`).set('if-match', tagOf(1));
    await patch.send(change).expect(200);
  }

  const jar = new Jar();
  const held = asker.link === 'another' ? another : made;
  if (asker.link !== 'none') jar.keep(`partbook-set=${held.secret}`);
  if (asker.locked) {
    await setPassphrase(api);
    if (asker.session === 'good' || asker.session === 'ended') jar.keep(await signIn(api));
    if (asker.session === 'ended') {
      await database.leaderSession.updateMany({ data: { endsAt: new Date('2026-02-01') } });
    }
    if (asker.session === 'wrong') jar.keep(`partbook-leader=${'A'.repeat(43)}`);
  }
  const [links, sessions, teams] = [
    await database.setLink.findMany(),
    await database.leaderSession.findMany(),
    await database.team.findMany(),
  ];
  const hidden = [
    ...[...links, ...sessions].map(({ secretHash }) => secretHash),
    ...teams.flatMap(({ passphrase }) => passphrase ?? []),
    ...[made, another, theirLink].map(({ secret }) => secret),
  ];
  return {
    app,
    database,
    theirTeam,
    own: { song, member: ruth.id, service: service.id, link: made.link.id, code: 'not-found' },
    theirs,
    jar,
    secret: asker.link === 'none' ? 'A'.repeat(43) : held.secret,
    hidden,
  };
}

/** Everything that is stored of one team, or of all, as text; sessions left out, which their holders may end. */
export async function storedOf({ database }: Scene, teamId?: string): Promise<string> {
  const where = teamId === undefined ? {} : { teamId };
  const team = teamId === undefined ? {} : { id: teamId };
  return JSON.stringify(
    [
      await database.team.findMany({ where: team, orderBy: { id: 'asc' } }),
      await database.song.findMany({ where, orderBy: { id: 'asc' } }),
      await database.member.findMany({ where, orderBy: { id: 'asc' } }),
      await database.arrangement.findMany({ where, orderBy: { id: 'asc' } }),
      await database.service.findMany({ where, orderBy: { id: 'asc' } }),
      await database.serviceItem.findMany({ where, orderBy: { id: 'asc' } }),
      await database.servicePerson.findMany({ where, orderBy: { memberId: 'asc' } }),
      await database.setLink.findMany({ where, orderBy: { id: 'asc' } }),
    ],
    (_, value: unknown) =>
      value instanceof Uint8Array ? Buffer.from(value).toString('base64') : value,
  );
}
