import { describe, expect, it } from 'vitest';
import type {
  DoubleAnswer,
  SameMeterAnswer,
  SearchAnswer,
  TuneAnswer,
} from '#server/contract/library.ts';
import type { Song } from '#server/contract/songs.ts';
import { Abc, LibraryEntries, NO_DETAILS, Transpose } from '#music';
import {
  bringHymn,
  hymnBytes,
  NEW_BRITAIN,
  ownApp,
  tagOf,
  type TestApp,
} from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import { songItem } from '#test/support/service.ts';
import { addService } from '#test/support/visitors.ts';

type Api = TestApp['api'];

const HYMNS = [
  'Amazing_Grace-New_Britain',
  'Our_God_Our_Help_In_Ages_Past-St_Anne',
  'Silent_Night-Stille_Nacht',
  'What_Child_Is_This-Greensleeves',
  'Abide_With_Me-Eventide',
];

async function bookOf(api: Api): Promise<Map<string, Song>> {
  const songs = new Map<string, Song>();
  for (const name of HYMNS) {
    const song = await bringHymn(api, name);
    songs.set(song.score.facts.title, song);
  }
  return songs;
}

async function search(api: Api, query: string): Promise<SearchAnswer> {
  return (await api.get(`/api/songs/search?${query}`).expect(200)).body as SearchAnswer;
}
const titles = ({ songs }: SearchAnswer): string[] => songs.map(({ title }) => title);

describe('GET /api/songs/search', () => {
  it('lists the whole book by title where nothing is asked', async () => {
    const { api } = await ownApp();
    const songs = await bookOf(api);
    const answer = await search(api, '');
    expect(titles(answer)).toEqual([...songs.keys()].sort());
    expect(answer).toMatchObject({ count: 5, all: 5 });
    expect(answer.songs.find(({ title }) => title === 'Amazing Grace')).toMatchObject({
      tune: 'New Britain',
      hymnMeter: '8.6.8.6',
      key: { tonic: 'G', mode: 'major' },
      meter: '3/4',
      low: 'D4',
      high: 'D5',
      lastSung: null,
      timesSung: 0,
      found: [],
      fits: null,
    });
  });

  it('finds half typed, mistyped and unaccented words, and says where they stand', async () => {
    const { api } = await ownApp();
    await bookOf(api);
    expect(titles(await search(api, 'q=amaz'))).toEqual(['Amazing Grace']);
    expect(titles(await search(api, 'q=amzing+grase'))).toEqual(['Amazing Grace']);
    expect(titles(await search(api, 'q=ámazing'))).toEqual(['Amazing Grace']);
    const byWords = await search(api, 'q=wretch+like+me');
    expect(titles(byWords)).toEqual(['Amazing Grace']);
    expect(byWords.songs[0]?.found).toEqual([
      { field: 'words', text: expect.stringContaining('wretch like me') as string },
    ]);
    expect(titles(await search(api, 'q=newton'))).toEqual(['Amazing Grace']);
    expect(titles(await search(api, 'q=the')).length).toBe(5);
    expect(titles(await search(api, 'q=zzzz'))).toEqual([]);
  });

  it('holds every filter together with the words', async () => {
    const { api } = await ownApp();
    const songs = await bookOf(api);
    const grace = songs.get('Amazing Grace') as Song;
    const details = {
      ...NO_DETAILS,
      themes: ['Grace'],
      scripture: ['Eph 2:8', 'Ps 23'],
      language: 'en-GB',
    };
    await api
      .put(`/api/songs/${grace.id}/details`)
      .set('if-match', tagOf(grace.version))
      .send({ details, privateNote: 'slow-for-Hannah' })
      .expect(200);
    for (const query of [
      'key=G&hymnMeter=CM',
      'meter=3/4&key=G&q=sound',
      'hymnMeter=86.86&theme=grace',
      'book=Psalms',
      'book=ephesians&language=en',
      'q=grace&low=C4&high=C5&accidentals=1&theme=grace',
    ]) {
      expect(titles(await search(api, query)), query).toEqual(['Amazing Grace']);
    }
    const answer = await search(api, 'q=grace&low=C4&high=C5&theme=grace');
    expect(answer.songs[0]?.fits).toEqual({ tonic: 'F', mode: 'major' });
    expect(titles(await search(api, 'key=E+minor&theme=grace'))).toEqual([]);
    expect(titles(await search(api, 'low=C4&high=F4'))).toEqual([]);
    expect(titles(await search(api, 'q=slow-for-Hannah')), 'the private note').toEqual([]);
    expectProblem(await api.get('/api/songs/search?key=H'), 'unreadable-key');
    expectProblem(await api.get('/api/songs/search?book=Xylophone'), 'no-such-scripture');
    expectProblem(await api.get('/api/songs/search?low=H4'), 'invalid-input');
  });

  it('knows what was sung and how long it has rested; services to come do not count', async () => {
    const { api } = await ownApp();
    const songs = await bookOf(api);
    const grace = songs.get('Amazing Grace')?.id ?? '';
    const abide = songs.get('Abide With Me')?.id ?? '';
    // It is 1 March 2026.
    await addService(api, { date: '2026-01-04', items: [songItem('a', grace)] });
    await addService(api, {
      date: '2026-02-15',
      items: [songItem('a', grace), songItem('b', grace), songItem('c', abide)],
    });
    await addService(api, { date: '2026-03-08', items: [songItem('a', abide)] });
    const answer = await search(api, 'q=grace');
    expect(answer.songs[0]).toMatchObject({ lastSung: '2026-02-15', timesSung: 2 });
    expect((await search(api, 'rested=2')).count).toBe(5);
    expect((await search(api, 'rested=3')).count).toBe(3);
    const rested = titles(await search(api, 'order=rested'));
    expect(rested.slice(-2).sort()).toEqual(['Abide With Me', 'Amazing Grace']);
  });

  it('follows every change at once', async () => {
    const { api } = await ownApp();
    const songs = await bookOf(api);
    const grace = songs.get('Amazing Grace') as Song;
    expect((await search(api, 'q=amazing')).count).toBe(1);
    const facts = { ...grace.score.facts, title: 'Wondrous Mercy' };
    await api
      .put(`/api/songs/${grace.id}/score`)
      .set('if-match', tagOf(1))
      .send({ score: { ...grace.score, facts } })
      .expect(200);
    expect(titles(await search(api, 'q=wondrous+mercy'))).toEqual(['Wondrous Mercy']);
    await api
      .patch(`/api/songs/${grace.id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ key: { tonic: 'F', mode: 'major' } })
      .expect(200);
    expect((await search(api, 'q=wondrous')).songs[0]).toMatchObject({
      key: { tonic: 'F', mode: 'major' },
      low: 'C4',
      high: 'C5',
    });
    await api.delete(`/api/songs/${grace.id}`).set('if-match', tagOf(2)).expect(204);
    expect(await search(api, 'q=wondrous+mercy')).toEqual({ songs: [], count: 0, all: 4 });
    await api.post(`/api/songs/${grace.id}/restore`).expect(200);
    expect((await search(api, 'q=wondrous+mercy')).count).toBe(1);
  });

  it('reads the songs that changed and no others, and none where nothing did', async () => {
    const { api, statements } = await ownApp();
    const songs = await bookOf(api);
    await search(api, 'q=grace');
    statements();
    await search(api, 'q=night');
    const music = /"(?:main`?.`?)?Song`?.`?score|`score`/;
    expect(statements().filter((sql) => music.test(sql))).toEqual([]);
    const grace = songs.get('Amazing Grace') as Song;
    await api
      .put(`/api/songs/${grace.id}/details`)
      .set('if-match', tagOf(1))
      .send({ details: { ...NO_DETAILS, themes: ['mercy'] }, privateNote: '' })
      .expect(200);
    statements();
    expect(titles(await search(api, 'q=mercy')).includes('Amazing Grace')).toBe(true);
    const read = statements().filter((sql) => music.test(sql));
    expect(read).toHaveLength(1);
    // Of one song: the list of ids has one place.
    expect(read[0]).toMatch(/`id` (?:IN \(\?\)|= \?)/);
  });

  it('comes in pages', async () => {
    const { api } = await ownApp();
    await bookOf(api);
    const all = titles(await search(api, 'order=title'));
    const second = await search(api, 'order=title&from=2&most=2');
    expect(titles(second)).toEqual(all.slice(2, 4));
    expect(second).toMatchObject({ count: 5, all: 5 });
  });
});

describe('POST /api/songs/double', () => {
  /** What a page draws from a song that it has read. */
  const questionOf = (text: string) => {
    const read = Abc.read(text);
    if (!read.ok || !read.value[0]) throw new Error('the hymn can be read');
    const { title, firstLine, lines, sign } = LibraryEntries.of(read.value[0], NO_DETAILS);
    return { title, firstLine, lines, steps: sign.steps };
  };
  const ask = async (api: Api, question: object) =>
    ((await api.post('/api/songs/double').send(question).expect(200)).body as DoubleAnswer).double;

  it('says which song of the book one is, by what, and in which key that is; nothing is kept', async () => {
    const { api } = await ownApp();
    const songs = await bookOf(api);
    const id = songs.get('Amazing Grace')?.id ?? '';
    const grace = questionOf((await hymnBytes(NEW_BRITAIN)).toString('latin1'));
    const inG = { id, title: 'Amazing Grace', key: { tonic: 'G', mode: 'major' } };
    expect(await ask(api, grace)).toEqual({ ...inG, because: 'title' });
    const renamed = { ...grace, title: 'Of Grace' };
    expect(await ask(api, renamed)).toEqual({ ...inG, because: 'first line' });
    const tuneAlone = { ...renamed, firstLine: null, lines: [] };
    expect(await ask(api, tuneAlone)).toEqual({ ...inG, because: 'melody' });
    expect(await ask(api, { ...tuneAlone, steps: tuneAlone.steps.map((step) => -step) })).toBe(
      null,
    );
    expect(((await api.get('/api/songs')).body as { songs: [] }).songs).toHaveLength(5);
  });

  it('knows no song that was deleted', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const grace = questionOf((await hymnBytes(NEW_BRITAIN)).toString('latin1'));
    await api.delete(`/api/songs/${song.id}`).set('if-match', tagOf(1)).expect(204);
    expect(await ask(api, grace)).toBe(null);
  });

  it('refuses what is no song', async () => {
    const { api } = await ownApp();
    expectProblem(await api.post('/api/songs/double').send({ title: 'x' }), 'invalid-input');
  });
});

describe('GET /api/songs/by-notes', () => {
  it('finds a tune by its first notes in any key', async () => {
    const { api } = await ownApp();
    await bookOf(api);
    // New Britain begins d g b g b a g; here a step down.
    const answer = await api.get('/api/songs/by-notes?notes=C4,F4,A4,F4,A4,G4,F4').expect(200);
    const [best] = (answer.body as TuneAnswer).songs;
    expect(best).toMatchObject({ distance: expect.any(Number) as number, bar: 0 });
    expect(best?.song.title).toBe('Amazing Grace');
  });

  it.each(['D4,H4,B4', 'D4,G4', '', `${'C4,'.repeat(61)}`])('refuses “%s”', async (notes) => {
    const { api } = await ownApp();
    expectProblem(await api.get(`/api/songs/by-notes?notes=${notes}`), 'unreadable-notes');
  });
});

describe('GET /api/songs/:id/same-meter', () => {
  it('names the others, with the caution about stress', async () => {
    const { api } = await ownApp();
    const songs = await bookOf(api);
    const id = songs.get('Amazing Grace')?.id ?? '';
    const answer = await api.get(`/api/songs/${id}/same-meter`).expect(200);
    const { hymnMeter, songs: others, caution } = answer.body as SameMeterAnswer;
    expect(hymnMeter).toBe('8.6.8.6');
    expect(others.map(({ tune }) => tune)).toEqual(['St. Anne']);
    expect(caution).toContain('stressed syllables');
    expectProblem(await api.get('/api/songs/none/same-meter'), 'no-such-song');
  });

  it('leaves out copies of the song itself, in whatever key: they are no other tune', async () => {
    const { api } = await ownApp();
    await bookOf(api);
    const source = (await hymnBytes(NEW_BRITAIN)).toString();
    const read = Abc.read(source);
    const [score] = read.ok ? read.value : [];
    if (!score) throw new Error('the hymn is read');
    const moved = Abc.write(Transpose.score(score, { tonic: 'F', mode: 'major' }));
    for (const text of [source, moved.replace(/^T:.*$/m, 'T:Another name')]) {
      const bytes = Buffer.from(text).toString('base64');
      await api.post('/api/songs').send({ format: 'abc', bytes }).expect(201);
    }
    const all = (await search(api, '')).songs;
    const ids = all.filter(({ tune }) => tune === 'New Britain').map(({ id }) => id);
    expect(ids).toHaveLength(3);
    for (const id of ids) {
      const answer = await api.get(`/api/songs/${id}/same-meter`).expect(200);
      const { songs } = answer.body as SameMeterAnswer;
      expect(songs.map(({ tune }) => tune)).toEqual(['St. Anne']);
    }
  });
});

describe('themes of songs', () => {
  it('stand once each as they were written first, and are found however they are written', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const themes = ['Trust', 'trust', 'Évening', 'evening', 'hope'];
    const answer = await api
      .put(`/api/songs/${id}/details`)
      .set('if-match', tagOf(1))
      .send({ details: { ...NO_DETAILS, themes }, privateNote: '' })
      .expect(200);
    expect((answer.body as Song).details.themes).toEqual(['Trust', 'Évening', 'hope']);
    for (const theme of ['trust', 'TRUST', 'evening', 'Évening']) {
      const asked = `theme=${encodeURIComponent(theme)}`;
      expect(titles(await search(api, asked)), theme).toEqual(['Amazing Grace']);
    }
  });
});
