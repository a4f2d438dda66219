import { describe, expect, it } from 'vitest';
import type { Song } from '#server/contract/songs.ts';
import { QUARTER } from '#music';
import { arrangementOf, bringHymn, hymnBytes, ownApp, tagOf } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';

const GREENSLEEVES = 'What_Child_Is_This-Greensleeves';
const TWO_TUNES = 'X:1\nT:One\nM:4/4\nL:1/4\nK:C\nCDEF|\n\nX:2\nT:Two\nM:4/4\nL:1/4\nK:G\nGABc|\n';
const SMALL = 'X:1\nT:Small\nM:4/4\nL:1/4\nK:C\nCDEF|G4|]\n';

describe('POST /api/songs', () => {
  it('brings a hymn: 201, its address, its version, its music', async () => {
    const { api } = await ownApp();
    const bytes = (await hymnBytes('Amazing_Grace-New_Britain')).toString('base64');
    const answer = await api.post('/api/songs').send({ format: 'abc', bytes }).expect(201);
    const song = answer.body as Song;
    expect(answer.headers).toMatchObject({ location: `/api/songs/${song.id}`, etag: '"v1"' });
    expect(song.score.facts.title).toBe('Amazing Grace');
    expect(song.score.keys[0]?.key).toEqual({ tonic: 'G', mode: 'major' });
    expect(song.score.voices.length).toBeGreaterThanOrEqual(4);
    expect(song).toMatchObject({
      version: 1,
      deletedAt: null,
      corrections: [],
      answers: { key: null },
    });
  });

  it('takes text as well as bytes', async () => {
    const { api } = await ownApp();
    const answer = await api.post('/api/songs').send({ format: 'abc', text: SMALL }).expect(201);
    expect((answer.body as Song).source).toEqual({ format: 'abc', text: SMALL });
  });

  it('brings every published hymn and keeps each byte of it', async () => {
    const { api } = await ownApp();
    // One of them is Latin-1: its bytes are no UTF-8.
    for (const name of [GREENSLEEVES, 'Now_Thank_We_All_Our_God-Nun_Danket']) {
      const { id } = await bringHymn(api, name);
      const kept = await api.get(`/api/songs/${id}/source`).responseType('blob').expect(200);
      expect(kept.headers['content-type']).toBe('text/vnd.abc');
      expect(Buffer.compare(kept.body as Buffer, await hymnBytes(name)), name).toBe(0);
    }
  });

  it('refuses a broken text with the line of each problem, and keeps nothing', async () => {
    const { api } = await ownApp();
    const text = 'X:1\nT:Broken\nM:4/4\nL:1/4\nK:C\nCDE|"Am F|\n';
    const answer = await api.post('/api/songs').send({ format: 'abc', text });
    const problem = expectProblem(answer, 'unreadable-song');
    expect(problem.problems?.[0]?.line).toBe(6);
    expect(problem.detail).toContain('Line 6');
    const list = await api.get('/api/songs').expect(200);
    expect(list.body).toEqual({ songs: [] });
  });

  it('asks which tune of several', async () => {
    const { api } = await ownApp();
    const asked = await api.post('/api/songs').send({ format: 'abc', text: TWO_TUNES });
    expect(expectProblem(asked, 'several-tunes').tunes).toEqual(['One', 'Two']);
    const second = await api.post('/api/songs').send({ format: 'abc', text: TWO_TUNES, tune: 1 });
    expect((second.body as Song).score.facts.title).toBe('Two');
    const none = await api.post('/api/songs').send({ format: 'abc', text: TWO_TUNES, tune: 2 });
    expectProblem(none, 'several-tunes');
  });

  it('takes the answer to a doubt about the key along', async () => {
    const { api } = await ownApp();
    const bytes = (await hymnBytes(GREENSLEEVES)).toString('base64');
    const key = { tonic: 'E', mode: 'minor' };
    const answer = await api.post('/api/songs').send({ format: 'abc', bytes, answers: { key } });
    const song = answer.body as Song;
    expect(song.score.keys[0]).toMatchObject({ key, sure: true });
    expect((await arrangementOf(api, song.id)).key).toEqual(key);
  });

  it.each([
    ['nothing at all', {}, 'format'],
    ['neither text nor bytes', { format: 'abc' }, 'text'],
    ['both text and bytes', { format: 'abc', text: SMALL, bytes: 'WDox' }, 'text'],
    ['an unknown format', { format: 'pdf', text: SMALL }, 'format'],
    ['bytes that are no base64', { format: 'abc', bytes: '%%%' }, 'bytes'],
    [
      'a key that is none',
      { format: 'abc', text: SMALL, answers: { key: { tonic: 'H', mode: 'major' } } },
      'answers.key.tonic',
    ],
  ])('answers 400 with the path of the field for %s', async (_, body, field) => {
    const { api } = await ownApp();
    const problem = expectProblem(await api.post('/api/songs').send(body), 'invalid-input');
    expect(problem.problems?.map((each) => each.field)).toContain(field);
  });

  it('answers 400 to what is no JSON', async () => {
    const { api } = await ownApp();
    const broken = await api.post('/api/songs').type('application/json').send('{"format":');
    expect(expectProblem(broken, 'bad-request').detail).toBe(
      'What was sent could not be read: it is cut off or empty. Nothing was changed; send it again.',
    );
    const empty = await api.post('/api/songs').type('application/json').send('');
    expectProblem(empty, 'bad-request');
  });

  it('answers 413 to more than two megabytes', async () => {
    const { api } = await ownApp();
    const text = SMALL + '%'.repeat(2 * 1024 * 1024);
    expectProblem(await api.post('/api/songs').send({ format: 'abc', text }), 'too-large');
  });

  it.each(['text/plain', 'application/x-www-form-urlencoded', 'text/vnd.abc'])(
    'answers 415 to %s',
    async (type) => {
      const { api } = await ownApp();
      expectProblem(await api.post('/api/songs').type(type).send('a=1'), 'wrong-media-type');
    },
  );
});

describe('GET /api/songs', () => {
  it('lists the songs by title, without their music', async () => {
    const { api } = await ownApp();
    await bringHymn(api, GREENSLEEVES);
    await bringHymn(api);
    const { body } = await api.get('/api/songs').expect(200);
    expect(body.songs.map((song: { title: string }) => song.title)).toEqual([
      'Amazing Grace',
      'What Child Is This?',
    ]);
    expect(Object.keys(body.songs[0])).toEqual([
      'id',
      'title',
      'tune',
      'key',
      'version',
      'deletedAt',
    ]);
  });

  it('answers 304 to who has the same list already', async () => {
    const { api } = await ownApp();
    await bringHymn(api);
    const { headers } = await api.get('/api/songs').expect(200);
    const again = await api
      .get('/api/songs')
      .set('if-none-match', headers['etag'] ?? '')
      .expect(304);
    expect(again.text).toBe('');
    await bringHymn(api, GREENSLEEVES);
    await api
      .get('/api/songs')
      .set('if-none-match', headers['etag'] ?? '')
      .expect(200);
  });
});

describe('GET /api/songs/:id', () => {
  it('gives the song with its version as ETag', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const answer = await api.get(`/api/songs/${song.id}`).expect(200);
    expect(answer.headers).toMatchObject({ etag: '"v1"', 'cache-control': 'no-store' });
    expect(answer.body).toEqual(song);
  });

  it('answers 404 where there is none', async () => {
    const { api } = await ownApp();
    expectProblem(await api.get('/api/songs/none'), 'no-such-song');
    expectProblem(await api.get('/api/songs/none/source'), 'no-such-song');
  });
});

describe('PATCH /api/songs/:id', () => {
  it('answers the doubt about the key, and takes the answer back', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api, GREENSLEEVES);
    const minor = { tonic: 'E', mode: 'minor' };
    const answered = await api
      .patch(`/api/songs/${song.id}`)
      .set('if-match', tagOf(1))
      .send({ key: minor })
      .expect(200);
    expect(answered.headers['etag']).toBe('"v2"');
    expect(answered.body.score.keys[0]).toMatchObject({ key: minor, sure: true });
    const back = await api
      .patch(`/api/songs/${song.id}`)
      .set('if-match', tagOf(2))
      .send({ key: null })
      .expect(200);
    expect(back.body.score).toEqual(song.score);
    expect(back.body.version).toBe(3);
  });

  it('keeps the arrangement as far from the song as it was when the key is answered', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api, GREENSLEEVES);
    const { key } = await arrangementOf(api, song.id);
    const up = { tonic: 'F#', mode: key.mode };
    await api
      .patch(`/api/songs/${song.id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ key: up })
      .expect(200);
    await api
      .patch(`/api/songs/${song.id}`)
      .set('if-match', tagOf(1))
      .send({ key: { tonic: 'E', mode: 'minor' } })
      .expect(200);
    expect(await arrangementOf(api, song.id)).toMatchObject({
      key: { tonic: 'F#', mode: 'minor' },
      version: 3,
    });
  });

  it('corrects a chord for as long as the one that was found there lasts, and takes it back', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const at = song.score.bars[1]?.at ?? 0;
    const change = { chord: { at, symbol: 'Am7/G' } };
    const corrected = await api
      .patch(`/api/songs/${song.id}`)
      .set('if-match', tagOf(1))
      .send(change)
      .expect(200);
    const [correction] = (corrected.body as Song).corrections;
    expect(correction).toMatchObject({ at, symbol: 'Am7/G' });
    expect(correction?.length).toBeGreaterThan(0);
    expect((corrected.body as Song).score.chords).toEqual([
      {
        at,
        length: correction?.length,
        chord: { root: 'A', kind: 'minor-seventh', degrees: [], bass: 'G' },
      },
    ]);
    const back = await api
      .patch(`/api/songs/${song.id}`)
      .set('if-match', tagOf(2))
      .send({ chord: { at, remove: true } })
      .expect(200);
    expect(back.body.score).toEqual(song.score);
  });

  it('lets a person say that there is no chord', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const chord = { at: 0, length: QUARTER, symbol: null };
    const answer = await api
      .patch(`/api/songs/${song.id}`)
      .set('if-match', tagOf(1))
      .send({ chord })
      .expect(200);
    expect(answer.body.score.chords).toEqual([{ at: 0, length: QUARTER, chord: null }]);
  });

  it('refuses a chord that nobody can read, and a place after the end', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const send = (chord: object) =>
      api.patch(`/api/songs/${song.id}`).set('if-match', tagOf(1)).send({ chord });
    const unreadable = expectProblem(await send({ at: 0, symbol: 'Xyz' }), 'unreadable-chord');
    expect(unreadable.problems?.[0]?.field).toBe('chord.symbol');
    expectProblem(await send({ at: 1e9, symbol: 'C' }), 'no-such-place');
    expectProblem(await send({ at: -1, symbol: 'C' }), 'invalid-input');
    // New Britain has a pickup of a quarter; bar 1 begins there.
    const between = await send({ at: QUARTER + 1, symbol: 'C' });
    expect(expectProblem(between, 'no-such-place').detail).toContain(
      'between beats 1 and 2 in bar 1 of “Amazing Grace”',
    );
    expect((await api.get(`/api/songs/${song.id}`)).body).toEqual(song);
  });

  it('answers 428 without If-Match, 412 with a stale one, 400 to an empty change, 404 to no song', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const path = `/api/songs/${song.id}`;
    const change = { key: { tonic: 'E', mode: 'minor' } };
    expectProblem(await api.patch(path).send(change), 'version-required');
    for (const tag of ['"v2"', '"v0"', 'W/"v1"', '*', '1', '']) {
      expectProblem(await api.patch(path).set('if-match', tag).send(change), 'stale-version');
    }
    expectProblem(await api.patch(path).set('if-match', tagOf(1)).send({}), 'invalid-input');
    const nowhere = api.patch('/api/songs/none').set('if-match', tagOf(1)).send(change);
    expectProblem(await nowhere, 'no-such-song');
    expect((await api.get(path)).body).toEqual(song);
  });

  it('lets one of two writers win and tells the other', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const write = (symbol: string) =>
      api
        .patch(`/api/songs/${song.id}`)
        .set('if-match', tagOf(1))
        .send({ chord: { at: 0, symbol } });
    const [one, two] = await Promise.all([write('C'), write('D')]);
    expect([one.status, two.status].sort()).toEqual([200, 412]);
    const won = one.status === 200 ? 'C' : 'D';
    const { body } = await api.get(`/api/songs/${song.id}`);
    expect(body).toMatchObject({ version: 2, corrections: [{ symbol: won }] });
  });
});

describe('DELETE /api/songs/:id and POST /api/songs/:id/restore', () => {
  it('hides the song and brings it back as it was, corrections and arrangement too', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const change = { chord: { at: 0, symbol: 'D7' } };
    await api.patch(`/api/songs/${id}`).set('if-match', tagOf(1)).send(change).expect(200);
    const before = (await api.get(`/api/songs/${id}`)).body as Song;
    const arrangement = await arrangementOf(api, id);

    const gone = await api.delete(`/api/songs/${id}`).set('if-match', tagOf(2)).expect(204);
    expect(gone.headers['etag']).toBe('"v3"');
    for (const path of ['', '/source', '/arrangement']) {
      expectProblem(await api.get(`/api/songs/${id}${path}`), 'no-such-song');
    }
    expect((await api.get('/api/songs')).body).toEqual({ songs: [] });
    const { body: bin } = await api.get('/api/songs?deleted=1').expect(200);
    expect(bin.songs).toMatchObject([{ id, version: 3, deletedAt: '2026-03-01T10:00:00.000Z' }]);

    const restored = await api.post(`/api/songs/${id}/restore`).expect(200);
    expect(restored.body).toEqual({ ...before, version: 4 });
    expect(await arrangementOf(api, id)).toEqual(arrangement);
  });

  it('answers 428, 412 and 404 as a change does', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    expectProblem(await api.delete(`/api/songs/${id}`), 'version-required');
    expectProblem(await api.delete(`/api/songs/${id}`).set('if-match', tagOf(7)), 'stale-version');
    expectProblem(await api.delete('/api/songs/none').set('if-match', tagOf(1)), 'no-such-song');
    expectProblem(await api.post(`/api/songs/${id}/restore`), 'no-such-song');
    await api.delete(`/api/songs/${id}`).set('if-match', tagOf(1)).expect(204);
    const stale = api.post(`/api/songs/${id}/restore`).set('if-match', tagOf(1));
    expectProblem(await stale, 'stale-version');
    expectProblem(await api.delete(`/api/songs/${id}`).set('if-match', tagOf(2)), 'no-such-song');
  });
});
