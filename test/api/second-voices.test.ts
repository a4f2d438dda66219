import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import type { Song } from '#server/contract/songs.ts';
import { addMember, ownApp, type TestApp } from '#test/support/api.ts';
import { pagesOf, songItem } from '#test/support/service.ts';
import { addService, ELSEWHERE, makeLink, openLink } from '#test/support/visitors.ts';

type Api = TestApp['api'];

/** A song of the demo that has its tune and chords and no second voice. */
async function bringSong(api: Api): Promise<Song> {
  const bytes = (await readFile('seed-data/songs/Carry_The_Morning.abc')).toString('base64');
  return (await api.post('/api/songs').send({ format: 'abc', bytes }).expect(201)).body as Song;
}

/** Ada leads; Marit, a child and Tomas sing beside the tune, in this order. */
async function sunday(api: Api, child: { low: string; high: string }) {
  const song = await bringSong(api);
  const ada = await addMember(api, { name: 'Ada', comfortable: { low: 'A3', high: 'C5' } });
  const marit = await addMember(api, { name: 'Marit', comfortable: { low: 'G3', high: 'B4' } });
  const wren = await addMember(api, { name: 'Wren', child: true, comfortable: child });
  const tomas = await addMember(api, { name: 'Tomas', comfortable: { low: 'B2', high: 'D4' } });
  const service = await addService(api, {
    items: [songItem('i', song.id, { lead: ada.id })],
    people: [
      { member: ada.id, roles: ['lead voice'] },
      { member: marit.id, roles: ['harmony voice'] },
      { member: wren.id, roles: ['harmony voice'] },
      { member: tomas.id, roles: ['harmony voice'] },
    ],
  });
  return { service, marit, wren, tomas };
}

async function sheetOf(api: Api, service: string, member: string) {
  const [page] = (await pagesOf(api, service, member)).pages;
  if (page?.kind !== 'staff') throw new Error('a page of notes');
  return page.sheet;
}

describe('the pages of who sings beside the tune', () => {
  it('have a line made for each voice, say so in the heading, and name nobody’s line twice', async () => {
    const { api } = await ownApp();
    const { service, marit, wren, tomas } = await sunday(api, { low: 'C4', high: 'D5' });
    const lines = new Set<string>();
    for (const { id, name } of [marit, wren, tomas]) {
      const { heading, summary, remarks, cautions, systems } = await sheetOf(api, service.id, id);
      expect(heading.rubric).toMatch(new RegExp(`^harmony voice, made (under|over) the tune, for ${name}$`)); // prettier-ignore
      expect(summary).toContain(`A second voice for ${name}, made from the tune and its chords`);
      expect(summary).not.toContain('sings it too');
      expect(remarks).toEqual([]);
      expect(cautions.length).toBeGreaterThan(0);
      lines.add(systems.map(({ svg }) => svg).join(''));
    }
    expect(lines.size).toBe(3);
  });

  it('hold the same notes whatever a child’s voice is, and by a link nothing is made from it', async () => {
    const { api } = await ownApp();
    const first = await sunday(api, { low: 'C4', high: 'D5' });
    const second = await sunday(api, { low: 'E4', high: 'B4' });
    const notes = async ({ service, tomas }: typeof first) =>
      (await sheetOf(api, service.id, tomas.id)).systems.map(({ svg }) => svg);
    expect(await notes(first)).toEqual(await notes(second));
    const made = await makeLink(api, first.service.id);
    const cookie = await openLink(api, made);
    const byLink = await api
      .get(`/api/set/${made.link.id}/pages/${first.wren.id}`)
      .set(ELSEWHERE)
      .set('cookie', cookie)
      .expect(200);
    expect(JSON.stringify(byLink.body)).not.toMatch(/made (under|over) the tune/);
  });
});
