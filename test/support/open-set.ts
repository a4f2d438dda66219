import type { MadeSetLink } from '#server/contract/links.ts';
import type { Member } from '#server/contract/members.ts';
import type { Service } from '#server/contract/services.ts';
import { addMember, bringHymn, ownApp, tagOf, type TestApp } from './api.ts';
import { addService, ELSEWHERE, makeLink, openLink } from './visitors.ts';

type Api = TestApp['api'];

export interface Sunday extends TestApp {
  readonly service: Service;
  readonly ruth: Member;
  readonly made: MadeSetLink;
  readonly cookie: string;
  /** What a telephone asks with the cookie of the link. */
  readonly ask: (path?: string, cookie?: string) => ReturnType<Api['get']>;
  readonly mark: (member: string, comfortable: object | null) => ReturnType<Api['put']>;
}

export const RANGE = { low: 'A3', high: 'B4' };

/** A service with a lead, somebody at the keys and three children, and a set link that is open. */
export async function sunday(
  facts: { now?: () => Date; marksRanges?: boolean } = {},
): Promise<Sunday> {
  const own = await ownApp({}, facts.now ? { now: facts.now } : {});
  const { api } = own;
  const ruth = await addMember(api, {
    name: 'Ruth',
    comfortable: RANGE,
    limit: { low: 'F3', high: 'D5' },
  });
  const joel = await addMember(api, { name: 'Joel', comfortable: { low: 'D3', high: 'D4' } });
  const kids = [];
  for (const name of ['Ada', 'Ben', 'Cleo']) {
    kids.push(await addMember(api, { name, child: true, comfortable: RANGE }));
  }
  const song = await bringHymn(api);
  const service = await addService(api, {
    title: 'Morning service',
    place: 'Mill Lane hall',
    items: [
      { id: 'i1', kind: 'reading', title: 'Psalm 23', minutes: 4, note: 'not for everybody' },
      { id: 'i2', kind: 'song', song: song.id, lead: kids[0]?.id ?? null },
    ],
    people: [
      { member: ruth.id, roles: ['lead voice'], voice: { low: 'C4', high: 'G4' } },
      { member: joel.id, roles: ['keys', 'leader'] },
      { member: kids[0]?.id ?? '', roles: ['harmony voice'] },
      { member: kids[1]?.id ?? '', roles: ['harmony voice'] },
      { member: kids[2]?.id ?? '', roles: ['drums'] },
    ],
  });
  const made = await makeLink(api, service.id, { marksRanges: facts.marksRanges ?? true });
  const cookie = await openLink(api, made);
  const path = `/api/set/${made.link.id}`;
  const ask = (more = '', as = cookie) =>
    api.get(`${path}${more}`).set(ELSEWHERE).set('cookie', as);
  const mark = (member: string, comfortable: object | null) =>
    api
      .put(`${path}/people/${member}/range`)
      .set(ELSEWHERE)
      .set('cookie', cookie)
      .send({ comfortable });
  return { ...own, service, ruth, made, cookie, ask, mark };
}

export const changeLink = ({ api, made }: Sunday, version: number, body: object) =>
  api.patch(`/api/links/${made.link.id}`).set('if-match', tagOf(version)).send(body).expect(200);
