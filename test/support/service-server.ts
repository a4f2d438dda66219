import { readFileSync } from 'node:fs';
import { Abc } from '#music';
import type { Known, Member } from '#server/contract/members.ts';
import type { Service, ServiceChange } from '#server/contract/services.ts';

const read = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
const score = read.ok ? read.value[0] : undefined;
if (!score) throw new Error('the hymn is there');

const member = (id: string, more: Partial<Member>): Member => ({
  id,
  name: id,
  roles: [],
  level: 'beginner',
  levels: {},
  instruments: {},
  reach: 12,
  comfortable: null,
  limit: null,
  child: false,
  rangeMarkedAt: null,
  version: 1,
  deletedAt: null,
  ...more,
});
const MEMBERS = [
  member('Ruth', { roles: ['lead voice'], comfortable: { low: 'A3', high: 'D5' } }),
  member('Tomas', { roles: ['lead voice', 'guitar'], comfortable: { low: 'C3', high: 'E4' } }),
  member('Ines', { roles: ['keys'], instruments: { transposeButton: true } }),
];

/** A line of an order with a song. */
export const item = (id: string, more: object) => ({
  id,
  kind: 'song' as const,
  title: '',
  minutes: null,
  note: '',
  song: null,
  key: null,
  lead: null,
  form: null,
  playedIn: {},
  rungs: {},
  wayOn: null,
  ...more,
});

/** One service as the server keeps it: versions count, and what is sent stands as it was sent. */
export class ServiceServer {
  service: Service = {
    id: 'x',
    title: 'Advent',
    date: '2026-11-29',
    until: null,
    time: '10:30',
    zone: 'Europe/Berlin',
    place: '',
    items: [
      item('a', { song: 'grace' }),
      item('b', { kind: 'reading', title: 'Isaiah 40', minutes: 3 }),
      item('c', { kind: 'talk', minutes: 20 }),
    ],
    people: MEMBERS.map(({ id, roles }) => ({ member: id, roles, voice: null })),
    startsAt: '2026-11-29T09:30:00Z',
    version: 1,
    deletedAt: null,
  };
  arrangement = {
    id: 'r',
    songId: 'grace',
    version: 1,
    key: { tonic: 'F', mode: 'major' as const },
    tempo: null,
    density: 'bar',
    form: null,
    lead: 'Ruth',
    singers: [],
    player: 'Ines',
  };
  /** What everybody has met at the keys. */
  known: Known['shapes'] = [];
  sent: ServiceChange[] = [];
  asked: string[] = [];

  fetch = async (path: string, init: RequestInit): Promise<Response> => {
    await Promise.resolve();
    this.asked.push(path);
    if (path.endsWith('/known'))
      return Response.json({ member: 'Ines', songs: [], shapes: this.known });
    if (path === '/api/members') return Response.json({ members: MEMBERS });
    if (path.startsWith('/api/songs/grace/arr')) return Response.json(this.arrangement);
    if (path.startsWith('/api/songs/grace')) return Response.json({ id: 'grace', score });
    if (path.startsWith('/api/songs/gone'))
      return Response.json({ code: 'no-such-song', detail: 'Gone.' }, { status: 404 });
    if (path === '/api/songs?deleted=1')
      return Response.json({ songs: [{ id: 'gone', title: 'Old Hundredth', tune: null }] });
    if (path === '/api/songs')
      return Response.json({ songs: [{ id: 'grace', title: 'Amazing Grace', tune: null }] });
    if (init.method === 'PATCH') {
      const version = new Headers(init.headers).get('if-match');
      if (version !== `"v${this.service.version}"`)
        return Response.json({ code: 'stale-version', detail: 'Stale.' }, { status: 412 });
      const change = JSON.parse(init.body as string) as ServiceChange;
      this.sent.push(change);
      this.service = { ...this.service, ...change, version: this.service.version + 1 } as Service;
    }
    return Response.json(this.service);
  };
}
