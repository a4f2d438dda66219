import { hymn } from './pages.ts';

export interface PlannedService {
  /** Address within the app with the secret in its fragment, as it is sent to people. */
  readonly path: string;
  /** Id of the set link. */
  readonly link: string;
  readonly service: string;
  /** By name. */
  readonly people: Readonly<Record<'Ines' | 'Ruth' | 'Joel' | 'Ada' | 'Mila', string>>;
}

/** Sends and reads JSON. @throws where the server refuses */
export async function call(
  address: string,
  method: string,
  path: string,
  body?: object,
  headers: Readonly<Record<string, string>> = {},
): Promise<Record<string, unknown>> {
  const response = await fetch(`${address}/api${path}`, {
    method,
    headers: { 'content-type': 'application/json', ...headers },
    ...(body && { body: JSON.stringify(body) }),
  });
  const text = await response.text();
  if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${text}`);
  return text === '' ? {} : (JSON.parse(text) as Record<string, unknown>);
}

const SONGS = [
  'Amazing_Grace-New_Britain',
  'O_Come_O_Come_Emmanuel-Veni_Emmanuel',
  'Silent_Night-Stille_Nacht',
] as const;

/**
 * A morning of three hymns, a reading and a talk (invented): Ines at the keys, a beginner who reads the first song in C
 * by the transpose button; Ruth leads the singing; Joel plays the guitar; Ada leads the service; Mila is a child.
 */
export async function planService(address: string): Promise<PlannedService> {
  const make = async (path: string, body: object) =>
    (await call(address, 'POST', path, body))['id'] as string;
  const songs: string[] = [];
  for (const name of SONGS) {
    const bytes = hymn(name).toString('base64');
    songs.push(await make('/songs', { format: 'abc', bytes, tune: 0 }));
  }
  const people = {
    Ines: await make('/members', {
      name: 'Ines',
      roles: ['keys'],
      level: 'beginner',
      instruments: { transposeButton: true },
    }),
    Ruth: await make('/members', { name: 'Ruth', roles: ['lead voice'] }),
    Joel: await make('/members', { name: 'Joel', roles: ['guitar'] }),
    Ada: await make('/members', { name: 'Ada', roles: ['leader'] }),
    Mila: await make('/members', { name: 'Mila', roles: ['harmony voice'], child: true }),
  };
  const item = (id: string, kind: string, more: object) => ({ id, kind, ...more });
  const service = await make('/services', {
    title: 'First Sunday of Advent',
    date: '2027-11-28',
    time: '10:30',
    zone: 'Europe/Berlin',
    place: 'St Anne’s, Saltmarsh',
    items: [
      item('welcome', 'other', { title: 'Welcome', minutes: 3 }),
      item('grace', 'song', {
        song: songs[0],
        lead: people.Ruth,
        key: { tonic: 'D', mode: 'major' },
        playedIn: { [people.Ines]: 'C' },
      }),
      item('isaiah', 'reading', { title: 'Isaiah 40', minutes: 4 }),
      item('emmanuel', 'song', { song: songs[1], lead: people.Ruth }),
      item('talk', 'talk', { title: 'Waiting', note: 'lights down before the prayer' }),
      item('night', 'song', { song: songs[2], lead: people.Ruth }),
    ],
    people: [
      { member: people.Ines, roles: ['keys'] },
      { member: people.Ruth, roles: ['lead voice'] },
      { member: people.Joel, roles: ['guitar'] },
      { member: people.Ada, roles: ['leader'] },
      { member: people.Mila, roles: ['harmony voice'] },
    ],
  });
  const made = await call(address, 'POST', `/services/${service}/links`, { marksRanges: true });
  const { id } = made['link'] as { id: string };
  return { path: made['path'] as string, link: id, service, people };
}
