import { describe, expect, it } from 'vitest';
import type { NewMember } from '#server/contract/members.ts';
import type { Page } from '#server/contract/pages.ts';
import type { NewService, ServiceItemInput } from '#server/contract/services.ts';
import { addMember, appFor, bringHymn, ownDatabase, tagOf } from '#test/support/api.ts';
import { pagesOf, quickRenderer, songItem } from '#test/support/service.ts';
import { addService } from '#test/support/visitors.ts';

type Roles = NonNullable<NewService['people']>[number]['roles'];

/** A hymn, one person and a service in which they meet; nothing is drawn. */
async function oneOf(
  roles: Roles,
  { member, item }: { member?: Partial<NewMember>; item?: Partial<ServiceItemInput> } = {},
) {
  const own = ownDatabase();
  const teamId = await own.store.addTeam('Mill Lane');
  const { api } = await appFor(own, teamId, {}, quickRenderer());
  const song = await bringHymn(api);
  const ines = await addMember(api, { name: 'Ines', ...member });
  const service = await addService(api, {
    items: [songItem('a', song.id, item)],
    people: [{ member: ines.id, roles }],
  });
  return { api, song, ask: (query = '') => pagesOf(api, service.id, ines.id, query) };
}

const staffOf = ({ pages }: { readonly pages: readonly Page[] }) => {
  const page = pages.find(({ kind }) => kind === 'staff');
  if (page?.kind !== 'staff') throw new Error('there is no staff page');
  return page;
};

describe('What stands over the pages of a person', () => {
  it('offers an easier key where nobody chose one, and takes none by itself', async () => {
    const member = { instruments: { transposeButton: true } };
    // E♭ has three flats; C, which a keyboard set to +3 makes sound in it, has none.
    const { ask } = await oneOf(['keys'], {
      member,
      item: { key: { tonic: 'Eb', mode: 'major' } },
    });
    const page = staffOf(await ask());
    expect([page.sheet.heading.key, page.played]).toEqual(['E♭ major', null]);
    expect(page.offer).toMatchObject({ plays: { tonic: 'C' }, amount: 3 });
    for (const chosen of ['?played=a.C', '?played=a.Eb'])
      expect(staffOf(await ask(chosen)).offer).toBeUndefined();
    const plain = await oneOf(['keys'], { item: { key: { tonic: 'Eb', mode: 'major' } } });
    expect(staffOf(await plain.ask()).offer).toBeUndefined();
  });

  it('says that the tempo is a file’s until somebody confirms it', async () => {
    const { api, song, ask } = await oneOf(['keys', 'guitar']);
    const tempos = ({ pages }: { readonly pages: readonly Page[] }) =>
      pages.flatMap((page) =>
        page.kind === 'staff' || page.kind === 'words' ? [page.sheet.heading.tempoFrom] : [],
      );
    expect(tempos(await ask())).toEqual(['file', 'file']);
    const { tempo } = song.score;
    await api
      .patch(`/api/songs/${song.id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ tempo })
      .expect(200);
    expect(tempos(await ask())).toEqual([undefined, undefined]);
  });
});
