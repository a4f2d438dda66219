import { describe, expect, it } from 'vitest';
import type { SongYear } from '#server/contract/year.ts';
import type { NewService } from '#server/contract/services.ts';
import { addMember, bringHymn, ownApp, type TestApp } from '#test/support/api.ts';
import { songItem } from '#test/support/service.ts';
import { addService } from '#test/support/visitors.ts';

async function yearOf(api: TestApp['api'], until: string): Promise<SongYear> {
  return (await api.get(`/api/songs/year?until=${until}`).expect(200)).body as SongYear;
}

async function team() {
  const own = await ownApp();
  const ruth = await addMember(own.api, { name: 'Ruth', roles: ['lead voice'] });
  const tomas = await addMember(own.api, { name: 'Tomas', roles: ['lead voice'] });
  const grace = await bringHymn(own.api);
  const vision = await bringHymn(own.api, 'Be_Thou_My_Vision-Slane');
  const people = [ruth, tomas].map(({ id }) => ({ member: id, roles: ['lead voice' as const] }));
  const sing = (date: string, items: NonNullable<NewService['items']>) =>
    addService(own.api, { date, items, people });
  return { ...own, ruth, tomas, grace, vision, sing };
}

const key = (tonic: string) => ({ tonic, mode: 'major' as const });

describe('GET /api/songs/year', () => {
  it('is empty where nothing was sung', async () => {
    const { api } = await team();
    expect(await yearOf(api, '2026-03-01')).toEqual({
      from: '2025-03-03',
      until: '2026-03-01',
      songs: [],
    });
  });

  it('tells each song with its days, keys and leads, the longest rested first', async () => {
    const { api, ruth, tomas, grace, vision, sing } = await team();
    await sing('2026-02-01', [
      songItem('a', grace.id, { lead: tomas.id, key: key('F') }),
      songItem('b', vision.id, { key: key('D') }),
    ]);
    await sing('2026-02-15', [songItem('a', grace.id, { lead: ruth.id, key: key('G') })]);
    const { songs } = await yearOf(api, '2026-03-01');
    expect(songs.map(({ title }) => title)).toEqual(['Be Thou My Vision', 'Amazing Grace']);
    expect(songs[1]?.sung.map(({ date, key: in_, lead }) => [date, in_.tonic, lead?.name])).toEqual(
      [
        ['2026-02-15', 'G', 'Ruth'],
        ['2026-02-01', 'F', 'Tomas'],
      ],
    );
    // Nobody is named: the first lead voice of the week leads.
    expect(songs[0]?.sung[0]?.lead).toEqual({ id: ruth.id, name: 'Ruth' });
  });

  it('counts 52 weeks, the last day included, and a song once in each service', async () => {
    const { api, grace, sing } = await team();
    await sing('2025-03-02', [songItem('a', grace.id)]);
    await sing('2025-03-03', [songItem('a', grace.id), songItem('b', grace.id)]);
    await sing('2026-03-01', [songItem('a', grace.id)]);
    await sing('2026-03-02', [songItem('a', grace.id)]);
    const { songs } = await yearOf(api, '2026-03-01');
    expect(songs[0]?.sung.map(({ date }) => date)).toEqual(['2026-03-01', '2025-03-03']);
  });

  it('leaves out what was deleted', async () => {
    const { api, grace, vision, sing } = await team();
    const { id, version } = await sing('2026-02-01', [songItem('a', grace.id)]);
    await sing('2026-02-08', [songItem('a', vision.id)]);
    await api.delete(`/api/services/${id}`).set('if-match', `"v${version}"`).expect(204);
    await api.delete(`/api/songs/${vision.id}`).set('if-match', `"v${vision.version}"`).expect(204);
    expect((await yearOf(api, '2026-03-01')).songs).toEqual([]);
  });
});
