import { describe, expect, it } from 'vitest';
import { Abc, NO_DETAILS, Transpose, type Score } from '#music';
import type { PersonPages } from '#server/contract/pages.ts';
import type { Service } from '#server/contract/services.ts';
import type { Song } from '#server/contract/songs.ts';
import {
  addMember,
  arrangementOf,
  bringHymn,
  ownApp,
  tagOf,
  type TestApp,
} from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import { pagesOf, songItem } from '#test/support/service.ts';
import { addService, ELSEWHERE, makeLink, openLink } from '#test/support/visitors.ts';

type Api = TestApp['api'];

async function putScore(api: Api, song: Song, score: Score): Promise<Song> {
  const answer = await api
    .put(`/api/songs/${song.id}/score`)
    .set('if-match', tagOf(song.version))
    .send({ score })
    .expect(200);
  return answer.body as Song;
}

const titled = (score: Score, title: string): Score => ({
  ...score,
  facts: { ...score.facts, title },
});

/** Two sections, a verse and a refrain, of one bar each. */
const TWO =
  'X:1\nT:Two parts\nM:4/4\nL:1/4\nK:C\nP:Verse\n"C"CDEF|\nw:one two three four\nP:Refrain\n"G"GGGG|]\nw:sing sing sing sing\n';

/** Without its second section, nor the bar, notes and passes of it. */
function withoutRefrain(score: Score): Score {
  const [first, second] = score.sections;
  if (!first || !second) throw new Error('it has two sections');
  return {
    ...score,
    bars: score.bars.filter(({ at }) => at < first.to),
    voices: score.voices.map((voice) => ({
      ...voice,
      notes: voice.notes.filter(({ at }) => at < first.to),
    })),
    chords: score.chords.filter(({ at }) => at < first.to),
    sections: [first],
    form: score.form.filter(({ section }) => section === first.id),
  };
}

async function bringText(api: Api, text: string): Promise<Song> {
  const answer = await api.post('/api/songs').send({ format: 'abc', text }).expect(201);
  return answer.body as Song;
}

describe('PUT /api/songs/:id/score', () => {
  it('keeps the music as it was edited, with its heading, and the source as it was brought', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const edited = titled(song.score, 'Amazing Grace, as we sing it');
    const saved = await putScore(api, song, edited);
    expect(saved.score).toEqual(edited);
    expect(saved).toMatchObject({ version: 2, source: song.source, corrections: [] });
    const { body } = await api.get('/api/songs').expect(200);
    expect(body.songs).toMatchObject([{ title: 'Amazing Grace, as we sing it', version: 2 }]);
  });

  it('takes answers and corrections over into the music', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api, 'What_Child_Is_This-Greensleeves');
    const answered = await api
      .patch(`/api/songs/${song.id}`)
      .set('if-match', tagOf(1))
      .send({ key: { tonic: 'E', mode: 'minor' }, chord: { at: 0, symbol: 'Em' } })
      .expect(200);
    const before = answered.body as Song;
    const after = await putScore(api, before, before.score);
    expect(after.score).toEqual(before.score);
    expect(after).toMatchObject({ answers: { key: null }, corrections: [] });
  });

  it('tells the second of two editors, and writes nothing over', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    await putScore(api, song, titled(song.score, 'First'));
    const late = await api
      .put(`/api/songs/${song.id}/score`)
      .set('if-match', tagOf(1))
      .send({ score: titled(song.score, 'Second') });
    expectProblem(late, 'stale-version');
    const none = await api.put(`/api/songs/${song.id}/score`).send({ score: song.score });
    expectProblem(none, 'version-required');
    const { body } = await api.get(`/api/songs/${song.id}`).expect(200);
    expect((body as Song).score.facts.title).toBe('First');
  });

  it.each<[string, (score: Score) => object]>([
    ['an empty thing', () => ({})],
    ['no voices', (score) => ({ ...score, voices: [] })],
    ['bars that are no list', (score) => ({ ...score, bars: 'many' })],
    ['a tune that no voice carries', (score) => ({ ...score, melody: 'nobody' })],
  ])('refuses %s and says what is wrong', async (_, broken) => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const answer = await api
      .put(`/api/songs/${song.id}/score`)
      .set('if-match', tagOf(1))
      .send({ score: broken(song.score) });
    const problem = expectProblem(answer, 'broken-score');
    expect(problem.problems?.length).toBeGreaterThan(0);
    expect((await api.get(`/api/songs/${song.id}`)).body).toEqual(song);
  });

  it('leaves the usual key where it sounds when the notes are moved, and follows where nothing was moved', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const inA = Transpose.score(song.score, { tonic: 'A', mode: 'major' });
    const moved = await putScore(api, song, inA);
    expect((await arrangementOf(api, song.id)).key).toEqual({ tonic: 'A', mode: 'major' });
    await api
      .patch(`/api/songs/${song.id}/arrangement`)
      .set('if-match', tagOf((await arrangementOf(api, song.id)).version))
      .send({ key: { tonic: 'F', mode: 'major' } })
      .expect(200);
    await putScore(api, moved, song.score);
    expect((await arrangementOf(api, song.id)).key).toEqual({ tonic: 'F', mode: 'major' });
  });

  it('breaks no arrangement, no form of a service and nobody’s pages', async () => {
    const { api } = await ownApp();
    const song = await bringText(api, TWO);
    const [verse, refrain] = song.score.sections.map(({ id }) => id);
    const member = await addMember(api, {
      name: 'Ruth',
      roles: ['leader', 'keys', 'lead voice', 'guitar'],
    });
    const form = [
      { section: verse, verse: null },
      { section: refrain, verse: null },
    ];
    await api
      .patch(`/api/songs/${song.id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ form, lead: member.id })
      .expect(200);
    const service = await addService(api, {
      items: [
        songItem('a', song.id, { form: [{ section: refrain ?? '', verse: null }] }),
        songItem('b', song.id),
      ],
      people: [{ member: member.id, roles: ['leader', 'keys', 'lead voice', 'guitar'] }],
    });
    const whole = await pagesOf(api, service.id, member.id);
    const edited = await putScore(api, song, withoutRefrain(song.score));

    expect((await arrangementOf(api, song.id)).form).toEqual([form[0]]);
    const pages: PersonPages = await pagesOf(api, service.id, member.id);
    expect(pages.pages.map(({ kind }) => kind)).toEqual(whole.pages.map(({ kind }) => kind));
    for (const role of ['keys', 'bass']) {
      const sheet = await api.get(`/api/songs/${song.id}/sheet?role=${role}`);
      expect(sheet.status, sheet.text.slice(0, 300)).toBe(200);
    }
    await api.get(`/api/songs/${song.id}/key-fit`).expect(200);
    await api.get(`/api/songs/${song.id}/musicxml`).expect(200);
    // The order is changed as before, though a line of it names what is gone.
    const stands = (await api.get(`/api/services/${service.id}`)).body as Service;
    const items = stands.items.map((item) => ({ ...item, note: 'softly' }));
    const changed = await api
      .patch(`/api/services/${service.id}`)
      .set('if-match', tagOf(stands.version))
      .send({ items: items.map((item) => ({ ...item, key: { tonic: 'D', mode: 'major' } })) })
      .expect(200);
    expect((changed.body as Service).items[0]?.form).toEqual(stands.items[0]?.form);

    // Undone, everything is as it was.
    await putScore(api, edited, song.score);
    expect((await arrangementOf(api, song.id)).form).toEqual(form);
  });
});

describe('POST /api/songs with a song that was written here', () => {
  it('keeps it, with no text as its source', async () => {
    const { api } = await ownApp();
    const read = Abc.read(TWO);
    if (!read.ok || !read.value[0]) throw new Error('it is readable');
    const [score] = read.value;
    const answer = await api.post('/api/songs').send({ format: 'written', score }).expect(201);
    const song = answer.body as Song;
    expect(song.score).toEqual(score);
    expect(song.source).toEqual({ format: 'written', text: null });
    expect((await arrangementOf(api, song.id)).key).toEqual({ tonic: 'C', mode: 'major' });
    await api.get(`/api/songs/${song.id}/source`).expect(200);
  });

  it('refuses what is no song', async () => {
    const { api } = await ownApp();
    const answer = await api.post('/api/songs').send({ format: 'written', score: { bars: [] } });
    expectProblem(answer, 'broken-score');
    expect((await api.get('/api/songs')).body).toEqual({ songs: [] });
  });
});

describe('POST /api/songs under a name (`draft`)', () => {
  const draft = '0f8e7d6c5b4a39281706f5e4d3c2b1a0';

  function written(): Score {
    const read = Abc.read(TWO);
    if (!read.ok || !read.value[0]) throw new Error('it is readable');
    return read.value[0];
  }
  const body = { format: 'written', score: written(), draft };

  it('makes one song of what is sent twice at once and once more after', async () => {
    const { api } = await ownApp();
    const both = await Promise.all([0, 1].map(() => api.post('/api/songs').send(body)));
    const late = await api.post('/api/songs').send(body);
    expect([...both, late].map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    const ids = [...both, late].map((answer) => (answer.body as Song).id);
    expect(new Set(ids).size).toBe(1);
    expect(late.headers['etag']).toBe(tagOf(1));
    expect((await api.get('/api/songs')).body.songs).toHaveLength(1);
  });

  it('answers with the song as it stands now, and lays nothing over it', async () => {
    const { api } = await ownApp();
    const made = await api.post('/api/songs').send(body).expect(201);
    await putScore(api, made.body as Song, titled(body.score, 'Corrected'));
    const late = await api.post('/api/songs').send(body).expect(200);
    expect(late.body).toMatchObject({ version: 2, score: { facts: { title: 'Corrected' } } });
  });

  it('brings nothing back that was taken out, and says where it is', async () => {
    const { api } = await ownApp();
    const { id } = (await api.post('/api/songs').send(body).expect(201)).body as Song;
    await api.delete(`/api/songs/${id}`).set('if-match', tagOf(1)).expect(204);
    const late = await api.post('/api/songs').send(body);
    expect(expectProblem(late, 'no-such-song').detail).toContain('restored');
    expect((await api.get('/api/songs')).body).toEqual({ songs: [] });
  });

  it('is another song under another name, under none, and in another team', async () => {
    const { api, store } = await ownApp();
    const { draft: _, ...nameless } = body;
    const ids = await Promise.all(
      [body, { ...body, draft: `${draft}-2` }, nameless, nameless].map(
        async (each) => ((await api.post('/api/songs').send(each).expect(201)).body as Song).id,
      ),
    );
    expect(new Set(ids).size).toBe(4);
    const other = store.forTeam(await store.addTeam('Other team'));
    expect(await other.songs.findDraft(draft)).toBeNull();
  });

  it('refuses a name that somebody could guess', async () => {
    const { api } = await ownApp();
    const answer = await api.post('/api/songs').send({ ...body, draft: 'mine' });
    expect(expectProblem(answer, 'invalid-input').problems).toMatchObject([{ field: 'draft' }]);
  });
});

const DETAILS = {
  ...NO_DETAILS,
  firstLine: 'Amazing grace! How sweet the sound',
  people: [{ layer: 'words', name: 'John Newton', born: 1725, died: 1807, year: 1779 }],
  themes: ['grace'],
  language: 'en',
  rights: [
    {
      layer: 'words',
      status: 'public domain',
      holder: '',
      licence: '',
      reason: 'First printed in 1779; the author died in 1807.',
      where: 'everywhere we know of',
    },
  ],
};
const NOTE = 'Hannah-cries-at-verse-three';

describe('PATCH /api/songs/:id with a name', () => {
  const patch = (api: Api, { id, version }: Pick<Song, 'id' | 'version'>, body: object) =>
    api.patch(`/api/songs/${id}`).set('if-match', tagOf(version)).send(body);

  it('names the song and its tune anew in its music, in the list and where it is searched', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const named = await patch(api, song, { title: ' Grace ', tune: 'Arlington' }).expect(200);
    const { score, version } = named.body as Song;
    expect(score).toEqual({ ...song.score, facts: { ...song.score.facts, title: 'Grace', tune: 'Arlington' } }); // prettier-ignore
    const [listed] = ((await api.get('/api/songs')).body as { songs: object[] }).songs;
    expect(listed).toMatchObject({ title: 'Grace', tune: 'Arlington' });
    const found = await api.get('/api/songs/search?q=arlington').expect(200);
    expect(found.body).toMatchObject({ songs: [{ id: song.id, tune: 'Arlington' }] });
    const undone = await patch(api, { id: song.id, version }, { tune: null }).expect(200);
    expect((undone.body as Song).score.facts.tune).toBeNull();
    expectProblem(await patch(api, song, { tune: 'Late' }), 'stale-version');
  });

  it('leaves the answer about the key and the chords that were written what they are', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const chord = { at: 0, symbol: 'N.C.' };
    const read = await patch(api, song, { key: { tonic: 'E', mode: 'minor' }, chord: { ...chord, symbol: null } }); // prettier-ignore
    const before = read.body as Song;
    const after = (await patch(api, before, { tune: 'Arlington' }).expect(200)).body as Song;
    expect([after.answers, after.corrections]).toEqual([before.answers, before.corrections]);
    expect(after.corrections).toHaveLength(1);
  });

  it('refuses a song without a title and keeps the one it has', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const problem = expectProblem(await patch(api, song, { title: '  ' }), 'invalid-input');
    expect(problem.detail).toContain('A song needs a title');
    expectProblem(await patch(api, song, {}), 'invalid-input');
    expect((await api.get(`/api/songs/${song.id}`)).body).toEqual(song);
  });
});

describe('PUT /api/songs/:id/details', () => {
  const put = (api: Api, { id, version }: Pick<Song, 'id' | 'version'>, body: object) =>
    api.put(`/api/songs/${id}/details`).set('if-match', tagOf(version)).send(body);

  it('keeps them whole; the earlier ones, sent again, undo it', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    // As the credits of its file have it (fields C: and OHAUTHOR … of the Open Hymnal Project).
    const { people } = song.details;
    expect(song).toMatchObject({ details: { ...NO_DETAILS, people }, privateNote: '' });
    expect(people[0]).toEqual({ layer: 'words', name: 'John Newton', born: 1725, died: 1807, year: 1779 }); // prettier-ignore
    const saved = await put(api, song, { details: DETAILS, privateNote: NOTE }).expect(200);
    expect(saved.body).toMatchObject({ version: 2, details: DETAILS, privateNote: NOTE });
    expect((saved.body as Song).score).toEqual(song.score);
    const undone = await put(api, saved.body as Song, { details: NO_DETAILS, privateNote: '' });
    expect(undone.body).toMatchObject({ version: 3, details: NO_DETAILS, privateNote: '' });
    const late = await put(api, song, { details: DETAILS, privateNote: '' });
    expectProblem(late, 'stale-version');
  });

  it('asks why something is in the public domain', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const [rights] = DETAILS.rights;
    const details = { ...DETAILS, rights: [{ ...rights, reason: ' ' }] };
    const problem = expectProblem(
      await put(api, song, { details, privateNote: '' }),
      'invalid-input',
    );
    expect(problem.problems).toMatchObject([{ field: 'details.rights.0.reason' }]);
    expect(problem.detail).toContain('Say why the words are');
  });

  it('takes places of the Bible that exist, and says what there is instead of others', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const details = { ...DETAILS, scripture: ['Ps 23', 'Jude 2:1'] };
    const problem = expectProblem(
      await put(api, song, { details, privateNote: '' }),
      'no-such-scripture',
    );
    expect(problem.problems).toMatchObject([{ field: 'details.scripture.1' }]);
    expect(problem.detail).toContain('Jude has one chapter');
    const good = { ...DETAILS, scripture: ['Ps 23', '1 Cor 13:4–7'] };
    await put(api, song, { details: good, privateNote: '' }).expect(200);
  });

  it('shows the private note on no page by link, in no file and on no printed page', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    await put(api, song, { details: DETAILS, privateNote: NOTE }).expect(200);
    const member = await addMember(api, { name: 'Ruth', roles: ['leader', 'keys'] });
    const service = await addService(api, {
      items: [songItem('a', song.id)],
      people: [{ member: member.id, roles: ['leader', 'keys', 'guitar', 'lead voice'] }],
    });
    const made = await makeLink(api, service.id);
    const cookie = await openLink(api, made);
    const seen = [
      await api.get(`/api/set/${made.link.id}`).set(ELSEWHERE).set('cookie', cookie).expect(200),
      await api
        .get(`/api/set/${made.link.id}/pages/${member.id}`)
        .set(ELSEWHERE)
        .set('cookie', cookie)
        .expect(200),
      await api.get(`/api/services/${service.id}/pages/${member.id}`).expect(200),
      await api.get(`/api/songs/${song.id}/sheet?role=keys`).expect(200),
      await api.get(`/api/songs/${song.id}/musicxml`).expect(200),
      await api.get(`/api/songs`).expect(200),
    ];
    for (const { text } of seen) expect(text).not.toContain(NOTE);
    const own = await api.get(`/api/songs/${song.id}`).expect(200);
    expect(own.text).toContain(NOTE);
  });
});
