import { describe, expect, it } from 'vitest';
import type { Page } from '#server/contract/pages.ts';
import type { Song } from '#server/contract/songs.ts';
import { addMember, appFor, bringHymn, ownDatabase } from '#test/support/api.ts';
import { pagesOf, quickRenderer, songItem } from '#test/support/service.ts';
import { addService } from '#test/support/visitors.ts';

/** One hymn, and Ines at a keyboard with a transpose button. */
async function keyboardApp() {
  const own = ownDatabase();
  const teamId = await own.store.addTeam('Mill Lane');
  const { api } = await appFor(own, teamId, {}, quickRenderer());
  const song = await bringHymn(api);
  const ines = await addMember(api, { name: 'Ines', instruments: { transposeButton: true } });
  const service = await addService(api, {
    items: [songItem('a', song.id)],
    people: [{ member: ines.id, roles: ['keys'] }],
  });
  const ask = (query = '') => pagesOf(api, service.id, ines.id, query);
  return { ...own, song, ask };
}

/** A song with nothing but its tune. */
const tuneOf = ({ score }: Song) => ({
  ...score,
  chords: [],
  voices: score.voices.filter(({ id }) => id === score.melody),
});

const kindsOf = ({ pages }: { readonly pages: readonly Page[] }) =>
  pages.map(({ kind, role }) => `${kind} ${role}`);

describe('The page of a song without chords, at the keys', () => {
  it('says once of words alone that there is nothing to play, and offers no key for them', async () => {
    const own = await keyboardApp();
    const { pages: before, reads: choices } = await own.ask();
    expect([kindsOf({ pages: before }), choices['a']?.length]).toEqual([['staff keys'], 12]);
    const score = { ...tuneOf(own.song), untimed: true };
    await own.database.song.updateMany({ data: { score: JSON.stringify(score) } });
    const { pages, reads } = await own.ask('?played=a.C');
    expect(pages).toMatchObject([
      {
        kind: 'words',
        played: null,
        sheet: {
          heading: { key: '' },
          remarks: [
            '“Amazing Grace” has words alone, without chords and without rhythm, so there is nothing to write as notes: follow the words.',
          ],
        },
      },
    ]);
    expect(pages[0]).not.toHaveProperty('offer');
    expect(reads['a'] ?? []).toEqual([]);
  });

  it('says once of a tune without chords that none can be found', async () => {
    const own = await keyboardApp();
    await own.database.song.updateMany({ data: { score: JSON.stringify(tuneOf(own.song)) } });
    const { pages } = await own.ask();
    const [page] = pages;
    expect(kindsOf({ pages })).toEqual(['words keys']);
    expect(page?.kind === 'words' && page.sheet.remarks).toEqual([
      '“Amazing Grace” has no chords, and none can be found in its voices: write the chords over its words first.',
    ]);
  });
});
