import type { Arrangement } from '#server/contract/arrangements.ts';
import type { MadeSetLink } from '#server/contract/links.ts';
import type { MemberList } from '#server/contract/members.ts';
import type { ServiceList } from '#server/contract/services.ts';
import type { Song, SongList } from '#server/contract/songs.ts';
import { call } from './planned-service.ts';

/** What a fresh install begins with. */
export interface Demo {
  readonly song: (title: string) => string;
  readonly person: (name: string) => string;
  /** The service that is coming. */
  readonly service: string;
  /** A song whose last verse is raised by a whole step. */
  readonly raised: string;
  /** Address of a set link, its secret in the fragment. */
  readonly link: string;
}

async function ask<T>(address: string, path: string, body?: object): Promise<T> {
  const sent = body && {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  };
  const response = await fetch(`${address}/api${path}`, sent);
  if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
  return (await response.json()) as T;
}

/** Has the last verse of a song sung a whole step higher. */
async function raiseLast(address: string, song: string): Promise<void> {
  const { score } = await ask<Song>(address, `/songs/${song}`);
  const { version } = await ask<Arrangement>(address, `/songs/${song}/arrangement`);
  const section = score.sections[0]?.id;
  const form = score.verses.map(({ number }, at) => ({
    section,
    verse: number,
    ...(at === score.verses.length - 1 && { up: 2 }),
  }));
  const headers = { 'if-match': `"v${version}"` };
  await call(address, 'PATCH', `/songs/${song}/arrangement`, { form }, headers);
}

/** Finds it by name, and has the last verse of one song raised. @throws where something is missing */
export async function findDemo(address: string): Promise<Demo> {
  const { songs } = await ask<SongList>(address, '/songs');
  const { members } = await ask<MemberList>(address, '/members');
  const { services } = await ask<ServiceList>(address, '/services');
  const service = services.find(({ over }) => !over)?.id;
  if (!service) throw new Error('the demo has no service to come');
  const { path } = await ask<MadeSetLink>(address, `/services/${service}/links`, {
    marksRanges: true,
  });
  const idOf = (list: readonly { id: string; name: string }[], name: string): string => {
    const found = list.find((each) => each.name === name);
    if (!found) throw new Error(`the demo has no ${name}`);
    return found.id;
  };
  const raised = songs.find(({ title }) => title === 'Abide With Me')?.id ?? '';
  await raiseLast(address, raised);
  const titled = songs.map(({ id, title }) => ({ id, name: title }));
  return {
    song: (title) => idOf(titled, title),
    person: (name) => idOf(members, name),
    service,
    raised,
    link: path,
  };
}
