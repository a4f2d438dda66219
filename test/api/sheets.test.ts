import { describe, expect, it, vi } from 'vitest';
import { Congregation, KeyFit, type Sheet } from '#music';
import type { KeyFitAnswer } from '#server/contract/key-fit.ts';
import type { SongSystems } from '#server/contract/sheets.ts';
import { RenderError, type Renderer } from '#server/render/renderer.ts';
import { addMember, appFor, bringHymn, ownApp, ownDatabase, tagOf } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';

// The first drawing waits for the engraver's thread to start.
vi.setConfig({ testTimeout: 60_000 });

describe('GET /api/songs/:id/sheet', () => {
  it('gives the beginner’s page in the key of the arrangement, engraved', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const joel = await addMember(api, { name: 'Joel', roles: ['keys'] });
    const key = { tonic: 'F', mode: 'major' };
    await api
      .patch(`/api/songs/${id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ key, player: joel.id })
      .expect(200);
    const sheet = (await api.get(`/api/songs/${id}/sheet`).expect(200)).body as Sheet;
    expect(sheet.heading).toMatchObject({ title: 'Amazing Grace', key: 'F major', meter: '3/4' });
    expect(sheet.heading.rubric).toContain('Joel');
    expect(sheet.systems.length).toBeGreaterThan(1);
    for (const system of sheet.systems) expect(system.svg).toMatch(/^<svg[ >].*<\/svg>$/s);
    expect(sheet.systems.flatMap(({ strip }) => strip).length).toBeGreaterThan(1);
  });

  it('follows what is asked: key, density, width, size, player', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const ruth = await addMember(api, { name: 'Ruth', level: 'advanced' });
    const ask = async (query: string) =>
      (await api.get(`/api/songs/${id}/sheet?${query}`).expect(200)).body as Sheet;
    const plain = await ask('');
    expect((await ask('key=D')).heading.key).toBe('D major');
    expect((await ask('key=Bb')).heading.key).toBe('B♭ major');
    expect((await ask(`player=${ruth.id}&level=beginner`)).heading.rubric).toContain('Ruth');
    const narrow = await ask('width=390');
    expect(narrow.measures.width).toBe(390);
    expect(narrow.systems.length).toBeGreaterThan(plain.systems.length);
    expect((await ask('text=1.5')).measures.words).toBeCloseTo(plain.measures.words * 1.5);
  });

  it('says so where a small hand does not hold every chord whole', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const remarksFor = async (name: string, reach: number) => {
      const player = await addMember(api, { name, reach });
      const answer = await api.get(`/api/songs/${id}/sheet?player=${player.id}`).expect(200);
      return (answer.body as Sheet).remarks;
    };
    const small = await remarksFor('Ines', 6);
    expect(small).toHaveLength(1);
    expect(small[0]).toMatch(
      /^A reach of 6 half steps does not hold every chord whole.* Ines .*\.$/,
    );
    expect(await remarksFor('Joel', 12)).toEqual([]);
  });

  it('gives the bass the rung of the level that is asked for', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const sheets = new Set<string>();
    for (const [level, rung] of [
      ['beginner', 'first rung'],
      ['intermediate', 'second rung'],
      ['advanced', 'third rung'],
    ] as const) {
      const path = `/api/songs/${id}/sheet?role=bass&level=${level}`;
      const sheet = (await api.get(path).expect(200)).body as Sheet;
      expect(sheet.heading.rubric).toMatch(new RegExp(`^bass, ${rung}, for `));
      expect(sheet.remarks).toEqual([]);
      sheets.add(sheet.systems.map(({ svg }) => svg).join());
    }
    expect(sheets.size).toBe(3);
  });

  it('gives the keys the rungs that are asked for, else those of the level', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const rubric = async (query: string) =>
      ((await api.get(`/api/songs/${id}/sheet?role=keys${query}`).expect(200)).body as Sheet)
        .heading.rubric;
    expect(await rubric('&level=beginner')).toMatch(/^keys, first rung, for /);
    expect(await rubric('&level=advanced')).toMatch(
      /^keys, right hand rung 4, left hand rung 4, for /,
    );
    expect(await rubric('&level=beginner&right=2&pedal=1')).toMatch(
      /^keys, right hand rung 2, left hand rung 1, with pedal, for /,
    );
    await api.get(`/api/songs/${id}/sheet?role=keys&right=5`).expect(400);
  });

  it('gives the pulse for the singers and the step of the bass where they are asked for', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const ask = async (query: string) =>
      (await api.get(`/api/songs/${id}/sheet?${query}`).expect(200)).body as Sheet;
    const drawn = (sheet: Sheet) => sheet.systems.map(({ svg }) => svg).join();
    const [plain, off, pulsed] = [
      await ask('role=keys&right=2'),
      await ask('role=keys&right=2&pulse=0'),
      await ask('role=keys&right=2&pulse=1'),
    ];
    expect(drawn(off)).toBe(drawn(plain));
    expect(drawn(pulsed)).not.toBe(drawn(plain));
    await api.get(`/api/songs/${id}/sheet?role=keys&pulse=2`).expect(400);
    const bass = async (query: string) => (await ask(`role=bass&level=beginner${query}`)).heading.rubric; // prettier-ignore
    expect(await bass('')).toMatch(/^bass, first rung, for /);
    expect(await bass('&bass=3')).toMatch(/^bass, third rung, for /);
    await api.get(`/api/songs/${id}/sheet?role=bass&bass=4`).expect(400);
  });

  it('gives a singer the tune, and says that no range is known', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const path = `/api/songs/${id}/sheet?role=lead%20voice`;
    const sheet = (await api.get(path).expect(200)).body as Sheet;
    expect(sheet.heading.rubric).toMatch(/^lead voice, for /);
    expect(sheet.remarks[0]).toContain('nothing is marked high or low');
  });

  it('is the same to the byte while nothing changes: 304; and another after a correction', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const first = await api.get(`/api/songs/${id}/sheet`).expect(200);
    expect(first.headers['cache-control']).toBe('private, no-cache');
    const etag = first.headers['etag'] ?? '';
    const again = () => api.get(`/api/songs/${id}/sheet`).set('if-none-match', etag);
    expect((await again().expect(304)).text).toBe('');
    await api
      .patch(`/api/songs/${id}`)
      .set('if-match', tagOf(1))
      .send({ chord: { at: 0, symbol: 'Em' } })
      .expect(200);
    const after = await again().expect(200);
    expect(after.headers['etag']).not.toBe(etag);
  });

  it.each([
    ['a key that is none', 'key=H', 'unreadable-key'],
    ['a part that is not written yet', 'role=drums', 'not-possible'],
    ['a player who is nobody', 'player=nobody', 'no-such-member'],
    ['a verse that the song has not', 'verse=99', 'no-such-verse'],
    ['an unknown role', 'role=tuba', 'invalid-input'],
    ['a page too narrow to hold a bar', 'width=10', 'invalid-input'],
    ['words too large for any page', 'text=9', 'invalid-input'],
  ] as const)('says what is wrong with %s', async (_, query, code) => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    expectProblem(await api.get(`/api/songs/${id}/sheet?${query}`), code);
  });

  it('names the verses there are where another is asked for', async () => {
    const { api } = await ownApp();
    const sentenceOf = async (id: string, what = 'sheet') => {
      const answer = await api.get(`/api/songs/${id}/${what}?verse=7`);
      return expectProblem(answer, 'no-such-verse').detail;
    };
    const hymn = await bringHymn(api);
    const five = '“Amazing Grace” has verses 1 to 5 under its notes, and no verse 7';
    expect(await sentenceOf(hymn.id)).toContain(five);
    expect(await sentenceOf(hymn.id, 'score-systems')).toContain(five);
    const text = 'X:1\nT:Small\nM:4/4\nL:1/4\nK:C\n"C"CDEF|G4|]\n';
    const { body } = await api.post('/api/songs').send({ format: 'abc', text }).expect(201);
    expect(await sentenceOf(body.id)).toContain('no words');
    await api.get(`/api/songs/${hymn.id}/sheet?verse=5`).expect(200);
    await api.get(`/api/songs/${body.id}/sheet`).expect(200);
  });

  it('sets the first verse that is sung where the arrangement leaves out the one asked for', async () => {
    const { api } = await ownApp();
    const { id, score } = await bringHymn(api);
    const form = [2, 4].map((verse) => ({ section: score.sections[0]?.id, verse }));
    await api
      .patch(`/api/songs/${id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ form })
      .expect(200);
    for (const query of ['', '?verse=1', '?verse=3']) {
      const { body } = await api.get(`/api/songs/${id}/sheet${query}`).expect(200);
      expect(body.verses).toEqual({ all: [2, 4], under: 2 });
      expect(body.words.map(({ number }: { number: number }) => number)).toEqual([4]);
      const drawn = body.systems.map(({ svg }: { svg: string }) => svg).join('');
      // The second and the first stanza of Newton's hymn begin so.
      expect(drawn).toContain('Twas');
      expect(drawn).not.toContain('maz');
      const margins = body.systems.map((each: { margin: { section: string } | null }) => each.margin?.section); // prettier-ignore
      expect(margins).toContain('Verse 2');
    }
  });

  it('answers 404 without a song', async () => {
    const { api } = await ownApp();
    expectProblem(await api.get('/api/songs/none/sheet'), 'no-such-song');
  });

  it.each([
    ['busy', 'engraver-busy'],
    ['timeout', 'engraver-busy'],
    ['crashed', 'engraver-busy'],
    ['refused', 'internal-error'],
  ] as const)('answers in words when the engraver is %s', async (reason, code) => {
    const own = ownDatabase();
    const renderer: Renderer = {
      engrave: () => Promise.reject(new RenderError(reason, 'inside')),
      close: () => Promise.resolve(),
    };
    const { api, app } = await appFor(own, await own.store.addTeam('Mill Lane'), {}, renderer);
    app.log.level = 'silent';
    const { id } = await bringHymn(api);
    const answer = await api.get(`/api/songs/${id}/sheet`);
    expect(expectProblem(answer, code).detail).not.toContain('inside');
  });
});

describe('GET /api/songs/:id/score-systems', () => {
  it('gives melody, words and chords in lines, in the song’s key or another', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const path = `/api/songs/${song.id}/score-systems`;
    const own = (await api.get(path).expect(200)).body as SongSystems;
    expect(own.key).toEqual({ tonic: 'G', mode: 'major' });
    expect(own.systems[0]?.from).toBe(0);
    for (const [place, system] of own.systems.entries()) {
      const next = own.systems[place + 1];
      if (next) expect(next.from).toBe(system.to);
    }
    expect(own.systems.flatMap(({ bars }) => bars)).toEqual(
      song.score.bars.map((bar) => bar.number),
    );
    const other = (await api.get(`${path}?key=F&width=390&v=1`).expect(200)).body as SongSystems;
    expect(other.key).toEqual({ tonic: 'F', mode: 'major' });
    expect(other.systems.length).toBeGreaterThan(own.systems.length);
  });

  it('answers 404, 422 and 400', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    expectProblem(await api.get('/api/songs/none/score-systems'), 'no-such-song');
    expectProblem(await api.get(`/api/songs/${id}/score-systems?key=X`), 'unreadable-key');
    expectProblem(await api.get(`/api/songs/${id}/score-systems?width=1`), 'invalid-input');
  });
});

describe('GET /api/songs/:id/musicxml', () => {
  it('gives a file under the song’s title', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api, 'Now_Thank_We_All_Our_God-Nun_Danket');
    const answer = await api
      .get(`/api/songs/${id}/musicxml?key=F`)
      .responseType('text')
      .expect(200);
    expect(answer.headers).toMatchObject({
      'content-type': 'application/vnd.recordare.musicxml+xml',
      'content-disposition': `attachment; filename="Now Thank We All Our God.musicxml"; filename*=UTF-8''Now%20Thank%20We%20All%20Our%20God.musicxml`,
    });
    const text = Buffer.from(answer.body as Uint8Array).toString('utf8');
    expect(text).toContain('<score-partwise version="4.0">');
    expect(text).toContain('<fifths>-1</fifths>');
  });

  it('answers 404 and 422', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    expectProblem(await api.get('/api/songs/none/musicxml'), 'no-such-song');
    expectProblem(await api.get(`/api/songs/${id}/musicxml?key=nothing`), 'unreadable-key');
  });
});

describe('GET /api/songs/:id/key-fit', () => {
  it('gives the table that the music core makes, for the singers of the arrangement', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const comfortable = { low: 'A3', high: 'D5' };
    const ruth = await addMember(api, { name: 'Ruth', comfortable });
    const joel = await addMember(api, { name: 'Joel' });
    await api
      .patch(`/api/songs/${song.id}/arrangement`)
      .set('if-match', tagOf(1))
      .send({ lead: ruth.id, singers: [ruth.id, joel.id] })
      .expect(200);
    const answer = (await api.get(`/api/songs/${song.id}/key-fit`).expect(200))
      .body as KeyFitAnswer;
    expect(answer).toMatchObject({ singers: [ruth.id], withoutRange: [joel.id], songVersion: 1 });
    const singer = { id: ruth.id, name: 'Ruth', comfortable, limit: null };
    const table = KeyFit.table(song.score, [singer, Congregation.voice()]);
    expect(answer.table).toEqual(JSON.parse(JSON.stringify(table)));
    // The tune spans an octave and the voice an octave and a fourth: six keys.
    expect(answer.front?.rows).toHaveLength(6);
    for (const row of answer.front?.rows ?? [])
      expect(row.costs.map(({ dimension }) => dimension)).toContain('hands');
  });

  it('counts the room by the guideline that is asked for, as the screen does', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const ask = async (query: string) =>
      (await api.get(`/api/songs/${id}/key-fit${query}`).expect(200)).body as KeyFitAnswer;
    const voicesIn = ({ table }: KeyFitAnswer) => [
      ...new Set(table.rows.map(({ voice }) => voice)),
    ];
    const usual = await ask('');
    expect(usual.congregation).toBe('psalter-committee');
    expect(voicesIn(usual)).toEqual(['congregation']);
    // Nobody leads by name: the room does.
    expect(usual.front?.rows.length).toBeGreaterThan(0);
    const narrow = await ask('?congregation=one-octave');
    expect(narrow.table).not.toEqual(usual.table);
    const none = await ask('?congregation=none');
    expect(none).toMatchObject({ congregation: null, front: null });
    const answer = await api.get(`/api/songs/${id}/key-fit?congregation=mine`);
    expect(expectProblem(answer, 'invalid-input').detail).toContain('congregation');
  });

  it('takes other singers by id, and knows no front without a voice', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const ruth = await addMember(api, { name: 'Ruth', comfortable: { low: 'A3', high: 'B4' } });
    const asked = await api.get(`/api/songs/${id}/key-fit?singers=${ruth.id}`).expect(200);
    expect(asked.body.singers).toEqual([ruth.id]);
    const none = await api.get(`/api/songs/${id}/key-fit?congregation=none`).expect(200);
    expect(none.body).toMatchObject({ singers: [], front: null });
  });

  it('answers 404, 422 and 400', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    expectProblem(await api.get('/api/songs/none/key-fit'), 'no-such-song');
    expectProblem(await api.get(`/api/songs/${id}/key-fit?singers=nobody`), 'unknown-member');
    expectProblem(await api.get(`/api/songs/${id}/key-fit?singers=,`), 'invalid-input');
  });
});

describe('A song of words and chords, without time', () => {
  const LAMP = 'The Evening Lamp\n\nVerse 1\nG        C    G\nA lamp in the window\n';

  async function bringLamp() {
    const { api } = await ownApp();
    const text = LAMP + '\nD     G\nBurn low\n'.repeat(40);
    const { body } = await api.post('/api/songs').send({ format: 'words', text }).expect(201);
    return { api, id: (body as { id: string }).id };
  }

  it.each(['score-systems', 'score-systems?verse=all', 'musicxml', 'sheet', 'sheet?role=bass'])(
    'has no notes to give: %s says so',
    async (what) => {
      const { api, id } = await bringLamp();
      const answer = await api.get(`/api/songs/${id}/${what}`);
      const { detail } = expectProblem(answer, 'not-possible');
      expect(detail).toContain('“The Evening Lamp” has words and chords but no rhythm');
    },
  );

  it('lies nowhere in a voice: key-fit has no row', async () => {
    const { api, id } = await bringLamp();
    const answer = (await api.get(`/api/songs/${id}/key-fit`).expect(200)).body as KeyFitAnswer;
    expect(answer.table).toMatchObject({ rows: [], tessitura: null });
    expect(answer.front).toMatchObject({ rows: [], suggestion: null });
  });
});
