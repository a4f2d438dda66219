import { describe, expect, it } from 'vitest';
import type { ServiceItemInput } from '#server/contract/services.ts';
import { addMember, appFor, bringHymn, ownDatabase, tagOf } from '#test/support/api.ts';
import { addService, patchService } from '#test/support/planned-service.ts';
import { expectProblem } from '#test/support/problem.ts';
import { pagesOf, quickRenderer, songItem } from '#test/support/service.ts';

/** Two hymns, C to G by a chord that is in both: Am, ii of G, and its dominant (Open Music Theory, “Modulation”). */
async function twoSongs(between: readonly ServiceItemInput[] = []) {
  const own = ownDatabase();
  const teamId = await own.store.addTeam('Mill Lane');
  const { api } = await appFor(own, teamId, {}, quickRenderer());
  const grace = await bringHymn(api);
  const nicaea = await bringHymn(api, 'Holy_Holy_Holy-Nicaea');
  const marit = await addMember(api, { name: 'Marit' });
  const elias = await addMember(api, { name: 'Elias' });
  const ada = await addMember(api, { name: 'Ada' });
  const key = (tonic: string) => ({ tonic, mode: 'major' as const });
  const items = [
    songItem('a', grace.id, { key: key('C'), wayOn: 'common chord' }),
    ...between,
    songItem('b', nicaea.id, { key: key('G') }),
  ];
  const service = await addService(api, {
    date: '2026-11-29',
    items,
    people: [
      { member: marit.id, roles: ['leader', 'keys'] },
      { member: elias.id, roles: ['guitar'] },
      { member: ada.id, roles: ['lead voice'] },
    ],
  });
  const ordersOf = async (member: string) =>
    (await pagesOf(api, service.id, member)).pages.map((page) =>
      page.kind === 'staff' || page.kind === 'words' ? page.sheet.order : '',
    );
  const leads = async () => {
    const [first] = (await pagesOf(api, service.id, marit.id)).pages;
    return first?.kind === 'order' ? first.sheet.lines.map(({ onward }) => onward) : [];
  };
  return { api, service, grace, nicaea, marit, elias, ada, items, key, ordersOf, leads };
}

describe('The way from song to song', () => {
  it('stands at the end of the one and at the head of the other, for each as they play', async () => {
    const { marit, elias, ada, ordersOf, leads } = await twoSongs();
    const [, keys, next] = await ordersOf(marit.id);
    expect(keys).toMatch(/; then Am and D7, on to “Holy, Holy, Holy” in G$/);
    expect(next).toMatch(/^comes from “Amazing Grace” in C, by a chord that is in both keys; /);
    expect((await ordersOf(elias.id))[0]).toBe(keys);
    expect((await ordersOf(ada.id))[0]).toMatch(
      /; then the keys play two bars; then “Holy, Holy, Holy” in G$/,
    );
    expect((await leads())[0]).toMatch(/^then by Am and D7, common chord, into G/);
  });

  it('has its chords over bars on a sheet of words', async () => {
    const { api, service, elias } = await twoSongs();
    const [page] = (await pagesOf(api, service.id, elias.id)).pages;
    const last = page?.kind === 'words' ? page.sheet.passes.at(-1) : undefined;
    expect(last?.name).toBe('On to “Holy, Holy, Holy” in G');
    expect(last?.lines[0]?.pieces.map(({ chord, bar }) => [chord?.name, bar ?? false])).toEqual([
      ['Am', false],
      ['D7', true],
    ]);
  });

  it('follows a change of key, and one that is gone is said and not played', async () => {
    const { api, service, marit, items, key, ordersOf, leads } = await twoSongs();
    const [first, second] = items as [ServiceItemInput, ServiceItemInput];
    const moved = await patchService(api, service, {
      items: [first, { ...second, key: key('F') }],
    });
    expect((await ordersOf(marit.id))[1]).toMatch(
      /; then Dm and C7, on to “Holy, Holy, Holy” in F$/,
    );
    await patchService(api, moved.body, { items: [first, { ...second, key: key('F#') }] });
    expect((await ordersOf(marit.id))[1]).not.toContain('on to');
    expect((await leads())[0]).toBe(
      'no common chord between C and F♯ any more; choose another way',
    );
  });

  it('waits for a song that was deleted', async () => {
    const { api, nicaea, marit, ordersOf, leads } = await twoSongs();
    const deleted = await api.delete(`/api/songs/${nicaea.id}`).set('if-match', tagOf(nicaea.version)); // prettier-ignore
    expect(deleted.status).toBeLessThan(300);
    expect((await ordersOf(marit.id))[1]).not.toContain('on to');
    expect((await leads())[0]).toMatch(
      /is not in the book, so there is no key to lead to or from\.$/,
    );
  });

  it('is a loop over what is spoken, and nothing else', async () => {
    const reading = { id: 'r', kind: 'reading', title: 'Psalm 46' } as const;
    const { api, service, marit, items, ordersOf, leads } = await twoSongs([reading]);
    expect((await leads())[0]).toBe(
      'the reading stands between now, so there is no common chord any more; choose another way',
    );
    const [first, ...others] = items as [ServiceItemInput, ...ServiceItemInput[]];
    await patchService(api, service, { items: [{ ...first, wayOn: 'loop' }, ...others] });
    expect((await ordersOf(marit.id))[1]).toMatch(
      /; then C and F over and over until the reading is over, then D7, on to “Holy, Holy, Holy” in G$/,
    );
  });

  it('is one that there is', async () => {
    const { api, service, items } = await twoSongs();
    const wrong = items.map((item) => ({ ...item, wayOn: 'by magic' }));
    expectProblem(await patchService(api, service, { items: wrong }), 'invalid-input');
  });
});
