import { describe, expect, it } from 'vitest';
import { QUARTER } from '#music';
import { addMember, appFor, arrangementOf, bringHymn, ownApp, tagOf } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import { quickRenderer } from '#test/support/service.ts';

describe('GET /api/songs/:id/arrangement', () => {
  it('begins as the song is', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const answer = await api.get(`/api/songs/${song.id}/arrangement`).expect(200);
    expect(answer.headers['etag']).toBe('"v1"');
    expect(answer.body).toEqual({
      id: answer.body.id,
      songId: song.id,
      version: 1,
      key: { tonic: 'G', mode: 'major' },
      tempo: null,
      density: 'bar',
      form: null,
      lead: null,
      singers: [],
      player: null,
    });
  });

  it('answers 404 where there is no such song', async () => {
    const { api } = await ownApp();
    expectProblem(await api.get('/api/songs/none/arrangement'), 'no-such-song');
  });
});

describe('PATCH /api/songs/:id/arrangement', () => {
  it('changes key, tempo, density, singers and player, each alone or together', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const ruth = await addMember(api, { name: 'Ruth' });
    const joel = await addMember(api, { name: 'Joel' });
    const path = `/api/songs/${song.id}/arrangement`;
    const key = { tonic: 'F', mode: 'major' };
    const one = await api.patch(path).set('if-match', tagOf(1)).send({ key }).expect(200);
    expect(one.body).toMatchObject({ key, version: 2, singers: [], density: 'bar' });
    const rest = {
      tempo: { beat: QUARTER, perMinute: 88 },
      density: 'beat',
      lead: ruth.id,
      singers: [joel.id, ruth.id],
      player: joel.id,
    };
    const two = await api.patch(path).set('if-match', tagOf(2)).send(rest).expect(200);
    expect(two.body).toMatchObject({ ...rest, key, version: 3 });
    expect(two.headers['etag']).toBe('"v3"');
    const back = { tempo: null, lead: null, singers: [], player: null };
    const three = await api.patch(path).set('if-match', tagOf(3)).send(back).expect(200);
    expect(three.body).toMatchObject({ ...back, key, density: 'beat', version: 4 });
  });

  it('counts who leads among the singers', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const ruth = await addMember(api, { name: 'Ruth' });
    const { body } = await api
      .patch(`/api/songs/${song.id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ lead: ruth.id })
      .expect(200);
    expect(body.singers).toEqual([ruth.id]);
  });

  it('leaves out members who were deleted, and has them again when they are restored', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const ruth = await addMember(api, { name: 'Ruth' });
    const who = { lead: ruth.id, player: ruth.id, singers: [ruth.id] };
    await api
      .patch(`/api/songs/${song.id}/arrangement`)
      .set('if-match', tagOf(1))
      .send(who)
      .expect(200);
    await api.delete(`/api/members/${ruth.id}`).set('if-match', tagOf(1)).expect(204);
    expect(await arrangementOf(api, song.id)).toMatchObject({
      lead: null,
      player: null,
      singers: [],
    });
    await api.post(`/api/members/${ruth.id}/restore`).expect(200);
    expect(await arrangementOf(api, song.id)).toMatchObject(who);
  });

  it('loses nobody who was deleted, whatever is changed before they are restored', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api, 'What_Child_Is_This-Greensleeves');
    const [joel, ruth, ines, dave] = await Promise.all(
      ['Joel', 'Ruth', 'Ines', 'Dave'].map((name) => addMember(api, { name })),
    );
    const who = { lead: ruth?.id, player: ines?.id, singers: [joel?.id, ruth?.id, ines?.id] };
    const patch = async (change: object) => {
      const { version } = await arrangementOf(api, id);
      const path = `/api/songs/${id}/arrangement`;
      await api.patch(path).set('if-match', tagOf(version)).send(change).expect(200);
    };
    await patch(who);
    for (const gone of [ruth, ines])
      await api.delete(`/api/members/${gone?.id}`).set('if-match', tagOf(1)).expect(204);
    await patch({ density: 'beat' });
    // As the screen sends it: what it does not see is null there.
    await patch({ singers: [joel?.id, dave?.id], lead: null, player: null });
    // Major or minor is answered: the arrangement is carried along.
    const key = { tonic: 'E', mode: 'minor' };
    await api.patch(`/api/songs/${id}`).set('if-match', tagOf(1)).send({ key }).expect(200);
    expect(await arrangementOf(api, id)).toMatchObject({
      lead: null,
      player: null,
      singers: [joel?.id, dave?.id],
    });
    for (const back of [ruth, ines]) await api.post(`/api/members/${back?.id}/restore`).expect(200);
    expect(await arrangementOf(api, id)).toMatchObject({
      ...who,
      singers: [...who.singers, dave?.id],
      density: 'beat',
      key,
    });
  });

  it.each([
    ['lead', { lead: 'nobody' }],
    ['player', { player: 'nobody' }],
    ['singers', { singers: ['nobody'] }],
  ])('answers 422 where the %s is nobody, and changes nothing', async (field, change) => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const path = `/api/songs/${song.id}/arrangement`;
    const answer = await api.patch(path).set('if-match', tagOf(1)).send(change);
    const problem = expectProblem(answer, 'unknown-member');
    expect(problem.problems?.[0]).toMatchObject({ field });
    expect(await arrangementOf(api, song.id)).toMatchObject({ version: 1, lead: null });
  });

  it('takes a form of the sections and verses that the song has, and null for its own', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api, 'O_Come_O_Come_Emmanuel-Veni_Emmanuel');
    const path = `/api/songs/${id}/arrangement`;
    const form = [
      { section: 'verse', verse: 1, texture: 'held' },
      { section: 'refrain', verse: null, texture: 'leading' },
      { section: 'verse', verse: 4, ending: 'broad', up: 2, unison: true },
    ];
    const set = await api.patch(path).set('if-match', tagOf(1)).send({ form }).expect(200);
    expect(set.body).toMatchObject({ form, version: 2 });
    const wrong: [object[], string][] = [
      [[...form, { section: 'bridge', verse: null }], 'form.3.section'],
      [[...form, { section: 'verse', verse: 12 }], 'form.3.verse'],
      [[...form, { section: 'verse', verse: 1, texture: 'loud' }], 'form.3.texture'],
      [[...form, { section: 'verse', verse: 1, ending: 'sudden' }], 'form.3.ending'],
      [[...form, { section: 'verse', verse: 1, up: 6 }], 'form.3.up'],
      [[...form, { section: 'verse', verse: 1, up: 1.5 }], 'form.3.up'],
      [[...form, { section: 'verse', verse: 1, unison: false }], 'form.3.unison'],
      [[], 'form'],
    ];
    for (const [passes, field] of wrong) {
      const answer = await api.patch(path).set('if-match', tagOf(2)).send({ form: passes });
      expect(expectProblem(answer, 'invalid-input').problems).toMatchObject([{ field }]);
    }
    expect((await arrangementOf(api, id)).form).toEqual(form);
    await api.patch(path).set('if-match', tagOf(2)).send({ form: null }).expect(200);
    expect((await arrangementOf(api, id)).form).toBeNull();
  });

  it('is played in that form on the sheet', async () => {
    const own = await ownApp();
    const { api } = await appFor(own, own.teamId, {}, quickRenderer());
    const { id } = await bringHymn(api);
    const sheet = async () => (await api.get(`/api/songs/${id}/sheet`).expect(200)).text;
    expect(await sheet()).toContain('verses 1 to 7');
    const form = [1, 2, 3].map((verse) => ({ section: 'verse', verse }));
    const path = `/api/songs/${id}/arrangement`;
    await api.patch(path).set('if-match', tagOf(1)).send({ form }).expect(200);
    expect(await sheet()).toContain('verses 1 to 3');
    expect(await sheet()).not.toContain('verses 1 to 7');
  });

  it('has a pass in a higher key in the order and in the part', async () => {
    const own = await ownApp();
    const { api } = await appFor(own, own.teamId, {}, quickRenderer());
    const { id } = await bringHymn(api);
    const form = [1, 2, 3].map((verse) => ({ section: 'verse', verse, ...(verse === 3 && { up: 2 }) })); // prettier-ignore
    const path = `/api/songs/${id}/arrangement`;
    await api.patch(path).set('if-match', tagOf(1)).send({ form }).expect(200);
    const sheet = (await api.get(`/api/songs/${id}/sheet`).expect(200)).text;
    expect(sheet).toContain('verses 1 and 2, verse 3 up a whole step');
    const { text } = await api.get(`/api/songs/${id}/part`).expect(200);
    expect(text).toContain('straight up a whole step, into A major');
  });

  it('moves a song up or down but does not turn major into minor', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const answer = await api
      .patch(`/api/songs/${song.id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ key: { tonic: 'E', mode: 'minor' } });
    expect(expectProblem(answer, 'not-possible').detail).toContain('Amazing Grace');
  });

  it.each([
    ['a dotted half, very slowly', { beat: QUARTER * 3, perMinute: 10 }],
    ['a sixteenth', { beat: QUARTER / 4, perMinute: 400 }],
  ])('takes %s as the counted note', async (_, tempo) => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const path = `/api/songs/${id}/arrangement`;
    await api.patch(path).set('if-match', tagOf(1)).send({ tempo }).expect(200);
  });

  it.each([
    [{ beat: 1, perMinute: 80 }, 'The counted note of the tempo must be a whole, half, quarter'],
    [{ beat: QUARTER, perMinute: 9 }, 'The tempo must be from 10 to 400 beats a minute; 9 is not.'],
    [{ beat: QUARTER, perMinute: 401 }, 'The tempo must be from 10 to 400 beats a minute; 401'],
  ])('refuses the tempo %j', async (tempo, words) => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const answer = await api
      .patch(`/api/songs/${id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ tempo });
    expect(expectProblem(answer, 'invalid-input').detail).toContain(words);
  });

  it('answers 428, 412, 400 and 404', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const path = `/api/songs/${song.id}/arrangement`;
    const change = { density: 'beat' };
    expectProblem(await api.patch(path).send(change), 'version-required');
    expectProblem(await api.patch(path).set('if-match', tagOf(2)).send(change), 'stale-version');
    expectProblem(await api.patch(path).set('if-match', tagOf(1)).send({}), 'invalid-input');
    const fast = { tempo: { beat: QUARTER, perMinute: 900 } };
    expectProblem(await api.patch(path).set('if-match', tagOf(1)).send(fast), 'invalid-input');
    const none = api.patch('/api/songs/none/arrangement').set('if-match', tagOf(1)).send(change);
    expectProblem(await none, 'no-such-song');
  });
});
