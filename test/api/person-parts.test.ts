import { describe, expect, it } from 'vitest';
import { Engraving, type EngraveRequest, type Engraver } from '#music';
import type { PersonParts } from '#server/contract/person-parts.ts';
import { engraveHere } from '#web/state/engraved-here.ts';
import { addMember, bringHymn, ownApp, type TestApp } from '#test/support/api.ts';
import { pagesOf, songItem } from '#test/support/service.ts';
import { makeEngraver } from '#test/support/verovio.ts';
import { addService, ELSEWHERE, makeLink, openLink } from '#test/support/visitors.ts';

type Api = TestApp['api'];

const HYMNS = ['Amazing_Grace-New_Britain', 'Silent_Night-Stille_Nacht'] as const;

/** Two hymns of the demo, and somebody at the keys who leads, a singer, a guitarist and a child. */
async function sunday(api: Api) {
  const songs = [];
  for (const name of HYMNS) songs.push(await bringHymn(api, name));
  const ines = await addMember(api, { name: 'Ines', instruments: { transposeButton: true } });
  const ruth = await addMember(api, { name: 'Ruth', comfortable: { low: 'A3', high: 'C5' } });
  const joel = await addMember(api, { name: 'Joel', instruments: { capo: 7 } });
  const wren = await addMember(api, {
    name: 'Wren',
    child: true,
    comfortable: { low: 'E4', high: 'A4' },
  });
  const service = await addService(api, {
    items: songs.map(({ id }, index) => songItem(`i${index}`, id, { lead: ruth.id })),
    people: [
      { member: ines.id, roles: ['keys', 'leader'] },
      { member: ruth.id, roles: ['lead voice'] },
      { member: joel.id, roles: ['guitar'] },
      { member: wren.id, roles: ['harmony voice'], voice: { low: 'F4', high: 'G4' } },
    ],
  });
  return { service, ines, ruth, joel, wren };
}

const partsOf = async (api: Api, service: string, member: string, query = '') =>
  (await api.get(`/api/services/${service}/pages/${member}/parts${query}`).expect(200))
    .body as PersonParts;

describe('the parts of a person', () => {
  it('make the same pages on a device as the server makes, to the byte, for every width, size and verse', async () => {
    const { api } = await ownApp();
    const { service, ines, ruth, joel, wren } = await sunday(api);
    const toolkit = (await makeEngraver()) as unknown as Engraver;
    const engraver = {
      engrave: (request: EngraveRequest) => Promise.resolve(Engraving.engrave(toolkit, request)),
    };
    const views = [
      { width: 390, textScale: 1.4, verse: 2 },
      { width: 1180, textScale: 0.85, verse: null },
    ] as const;
    let systems = 0;
    for (const { id } of [ines, ruth, joel, wren]) {
      for (const read of id === ines.id ? ['', 'played=i0.C'] : ['']) {
        const parts = await partsOf(api, service.id, id, `?${read}`);
        for (const view of views) {
          const verse = view.verse === null ? '' : `&verse=${view.verse}`;
          const query = `?width=${view.width}&text=${view.textScale}${verse}&${read}`;
          const served = await pagesOf(api, service.id, id, query);
          const here = await engraveHere(parts, view, engraver);
          expect(JSON.parse(JSON.stringify(here)), `${id} ${query}`).toEqual(served);
          systems += served.pages.reduce(
            (sum, page) => sum + (page.kind === 'staff' ? page.sheet.systems.length : 0),
            0,
          );
        }
      }
    }
    // Something was compared: Ines (in two keys), Ruth and Wren have notes of two hymns each, in two views.
    expect(systems).toBeGreaterThan(4 * 2 * 2 * 3);
  }, 120_000);

  it('hold no more of a child’s voice, of names or of a song’s source than the pages do', async () => {
    const { api } = await ownApp();
    const { service, wren, ines } = await sunday(api);
    const made = await makeLink(api, service.id, { marksRanges: true });
    const cookie = await openLink(api, made);
    const byLink = async (member: string) =>
      (
        await api
          .get(`/api/set/${made.link.id}/pages/${member}/parts`)
          .set(ELSEWHERE)
          .set('cookie', cookie)
          .expect(200)
          .expect('cache-control', 'no-store')
      ).text;
    const [child, keys] = [await byLink(wren.id), await byLink(ines.id)];
    for (const text of [child, keys]) {
      expect(text).not.toContain('Wren');
      expect(text).not.toMatch(/sits easily|at the edge|too (?:high|low)|"voice":/i);
      expect(text).toContain('"source":null,"other":[]');
      expect(text).not.toMatch(/"comfortable"|"reach"|"instruments"/);
    }
    const pages = (JSON.parse(child) as PersonParts).pages;
    expect(pages.map((page) => page.kind === 'part' && page.player)).toEqual([
      { name: 'a harmony voice' },
      { name: 'a harmony voice' },
    ]);
  });

  it('are the same answer while nothing changes, and nothing of whom nobody knows', async () => {
    const { api } = await ownApp();
    const { service, ines } = await sunday(api);
    const path = `/api/services/${service.id}/pages/${ines.id}/parts`;
    const first = await api.get(path).expect(200);
    await api.get(path).set('if-none-match', String(first.headers['etag'])).expect(304);
    await api.get(`/api/services/${service.id}/pages/nobody/parts`).expect(404);
    await api.get('/api/set/nothing/pages/nobody/parts').expect(404);
  });
});
