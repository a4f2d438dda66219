import { describe, expect, it } from 'vitest';
import type { Known, NewMember, ShapesAhead } from '#server/contract/members.ts';
import type { NewService } from '#server/contract/services.ts';
import { addMember, bringHymn, ownApp, tagOf, type TestApp } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import { songItem } from '#test/support/service.ts';
import { addService } from '#test/support/visitors.ts';

type Api = TestApp['api'];
type Roles = NonNullable<NewService['people']>[number]['roles'];

async function knownTo(api: Api, member: string): Promise<Known> {
  return (await api.get(`/api/members/${member}/known`).expect(200)).body as Known;
}

/** It is Sunday, 1 March 2026, 11:00 in Berlin. */
const TODAY = '2026-03-01';
const PAST = ['2026-02-08', '2026-02-15', '2026-02-22'] as const;

async function team(member: Partial<NewMember> = {}) {
  const own = await ownApp();
  const ines = await addMember(own.api, { name: 'Ines', ...member });
  const grace = await bringHymn(own.api);
  const vision = await bringHymn(own.api, 'Be_Thou_My_Vision-Slane');
  /** A service in which Ines has those roles. */
  const serve = (date: string, items: NonNullable<NewService['items']>, roles: Roles = ['keys']) =>
    addService(own.api, { date, items, people: [{ member: ines.id, roles }] });
  return { ...own, ines, grace, vision, serve };
}

const inKey = (tonic: string) => ({ key: { tonic, mode: 'major' as const } });

describe('GET /api/members/:id/known', () => {
  it('is empty for whoever has not played yet', async () => {
    const { api, ines } = await team();
    expect(await knownTo(api, ines.id)).toEqual({ member: ines.id, songs: [], shapes: [] });
  });

  it('tells songs with their keys, the latest first, how often and when last', async () => {
    const { api, ines, grace, vision, serve } = await team();
    await serve(PAST[0], [songItem('a', grace.id), songItem('b', vision.id, inKey('D'))]);
    await serve(PAST[1], [songItem('a', grace.id, inKey('F'))]);
    await serve(PAST[2], [songItem('a', grace.id)]);
    const { songs } = await knownTo(api, ines.id);
    expect(songs).toEqual([
      {
        id: grace.id,
        title: 'Amazing Grace',
        keys: [
          { tonic: 'G', mode: 'major' },
          { tonic: 'F', mode: 'major' },
        ],
        times: 3,
        last: PAST[2],
      },
      {
        id: vision.id,
        title: 'Be Thou My Vision',
        keys: [{ tonic: 'D', mode: 'major' }],
        times: 1,
        last: PAST[0],
      },
    ]);
  });

  it('tells the shapes of the very pages that were played from, and in how many songs each', async () => {
    const { api, ines, grace, vision, serve } = await team();
    await serve(PAST[0], [songItem('a', grace.id), songItem('b', vision.id, inKey('G'))]);
    const { shapes } = await knownTo(api, ines.id);
    expect(shapes[0]?.songs).toBe(2);
    expect(shapes.at(-1)?.songs).toBe(1);
    const query = `key=G&player=${ines.id}`;
    const sheet = await api.get(`/api/songs/${grace.id}/sheet?${query}`).expect(200);
    const pictures = (
      sheet.body.systems as { strip: { chord: string; notes: string[]; fingers: number[] }[] }[]
    ).flatMap(({ strip }) => strip);
    for (const { chord, notes, fingers } of pictures)
      expect(shapes).toContainEqual(expect.objectContaining({ chord, notes, fingers }));
  });

  it('counts the shapes of the key that lay under the hands, and the key that sounded', async () => {
    const { api, ines, grace, serve } = await team({ instruments: { transposeButton: true } });
    await serve(PAST[0], [songItem('a', grace.id, { playedIn: { [ines.id]: 'C' } })]);
    const { songs, shapes } = await knownTo(api, ines.id);
    expect(songs[0]?.keys).toEqual([{ tonic: 'G', mode: 'major' }]);
    const chords = shapes.map(({ chord }) => chord);
    expect(chords).toContain('C');
    expect(chords).not.toContain('D7');
  });

  it('counts only what is over, is there, and was played at the keys', async () => {
    const { api, ines, grace, vision, serve } = await team();
    await serve(TODAY, [songItem('a', grace.id)]);
    await serve(PAST[1], [songItem('a', grace.id)], ['lead voice', 'leader']);
    const deleted = await serve(PAST[2], [songItem('a', vision.id)]);
    expect((await knownTo(api, ines.id)).songs).toHaveLength(1);
    await api.delete(`/api/services/${deleted.id}`).set('if-match', tagOf(1)).expect(204);
    expect((await knownTo(api, ines.id)).songs).toEqual([]);
  });

  it('knows a service as over when its day has passed there', async () => {
    let now = new Date('2026-03-01T22:59:00Z');
    const own = await ownApp({}, { now: () => now });
    const { api } = own;
    const ines = await addMember(api, { name: 'Ines' });
    const song = await bringHymn(api);
    await addService(api, {
      date: TODAY,
      zone: 'Europe/Berlin',
      items: [songItem('a', song.id)],
      people: [{ member: ines.id, roles: ['keys'] }],
    });
    expect((await knownTo(api, ines.id)).songs).toEqual([]);
    now = new Date('2026-03-01T23:00:00Z');
    expect((await knownTo(api, ines.id)).songs).toHaveLength(1);
  });

  it('costs as many statements for a year of services as for one, and hardly any while nothing changes', async () => {
    const { api, ines, grace, vision, serve, statements } = await team();
    const costs = async () => {
      statements();
      await knownTo(api, ines.id);
      return statements().filter((sql) => !/^(BEGIN|COMMIT|ROLLBACK)/.test(sql)).length;
    };
    await serve(PAST[0], [songItem('a', grace.id)]);
    const few = await costs();
    expect(await costs()).toBe(1);
    for (let week = 1; week <= 20; week++) {
      const date = `2025-${String(1 + (week % 12)).padStart(2, '0')}-0${1 + (week % 9)}`;
      await serve(date, [songItem('a', grace.id), songItem('b', vision.id)]);
    }
    expect(await costs()).toBe(few);
  });

  it('answers 304 to whoever has it, and 404 without a member', async () => {
    const { api, ines } = await team();
    const path = `/api/members/${ines.id}/known`;
    const { headers } = await api.get(path).expect(200);
    await api
      .get(path)
      .set('if-none-match', headers['etag'] as string)
      .expect(304);
    expectProblem(await api.get('/api/members/none/known'), 'no-such-member');
  });
});

describe('GET /api/services/:id/shapes/:member', () => {
  const ahead = async (api: Api, service: string, member: string): Promise<ShapesAhead> =>
    (await api.get(`/api/services/${service}/shapes/${member}`).expect(200)).body as ShapesAhead;

  it('tells the shapes of a service to come, each once, and none as known to who has not played', async () => {
    const { api, ines, grace, vision, serve } = await team();
    const service = await serve(TODAY, [songItem('a', grace.id), songItem('b', vision.id)]);
    const { member, shapes } = await ahead(api, service.id, ines.id);
    expect(member).toBe(ines.id);
    expect(shapes.length).toBeGreaterThan(4);
    expect(shapes.some(({ known }) => known)).toBe(false);
    const signs = shapes.map(({ chord, notes, fingers }) =>
      JSON.stringify([chord, notes, fingers]),
    );
    expect(new Set(signs).size).toBe(signs.length);
    expect(new Set(shapes.flatMap(({ songs }) => songs))).toEqual(new Set(['a', 'b']));
  });

  it('knows those of a song that was played before in that key, and counts the service itself as not met', async () => {
    const { api, ines, grace, vision, serve } = await team();
    await serve(PAST[0], [songItem('a', grace.id)]);
    const service = await serve(PAST[1], [songItem('a', grace.id), songItem('b', vision.id)]);
    const { shapes } = await ahead(api, service.id, ines.id);
    const ofGrace = shapes.filter(({ songs }) => songs.includes('a'));
    expect(ofGrace.every(({ known }) => known)).toBe(true);
    expect(shapes.some(({ known }) => !known)).toBe(true);
  });

  it('is refused for a service that is not there', async () => {
    const { api, ines } = await team();
    const answer = await api.get(`/api/services/${ines.id}/shapes/${ines.id}`);
    expectProblem(answer, 'no-such-service');
  });
});
