import { readFileSync } from 'node:fs';
import midiFile from 'midi-file';
import { describe, expect, it } from 'vitest';
import { Abc, Keys, MusicXml, SongFiles, Transpose } from '#music';
import type { ImportLine, ImportReport } from '#server/contract/library.ts';
import type { Song } from '#server/contract/songs.ts';
import { bringHymn, hymnBytes, ownApp, type TestApp } from '#test/support/api.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { expectProblem } from '#test/support/problem.ts';

type Api = TestApp['api'];

async function fileOf(api: Api, song: Song, as: string) {
  const answer = await api.get(`/api/songs/${song.id}/file?as=${as}`).responseType('blob');
  return { ...answer, status: answer.status, bytes: answer.body as Buffer };
}

const WORDS = 'Lamps\n\nG        C\nLamps on the water\n';

describe('GET /api/songs/:id/file', () => {
  it.each([
    ['musicxml', 'application/vnd.recordare.musicxml+xml', 'musicxml'],
    ['mxl', 'application/vnd.recordare.musicxml', 'mxl'],
    ['abc', 'text/vnd.abc; charset=utf-8', 'abc'],
    ['midi', 'audio/midi', 'mid'],
    ['words', 'text/plain; charset=utf-8', 'txt'],
  ])('gives %s in its media type, as a file with the song’s name', async (as, type, ending) => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const file = await fileOf(api, song, as);
    expect(file.status).toBe(200);
    expect(file.headers['content-type']).toBe(type);
    expect(file.headers['content-disposition']).toBe(
      `attachment; filename="Amazing Grace.${ending}"; filename*=UTF-8''Amazing%20Grace.${ending}`,
    );
    const read = SongFiles.read(new Uint8Array(file.bytes));
    if (!read.ok) throw new Error(read.problems[0]?.message);
    const [back] = read.value.scores;
    expect(back?.facts.title).toBe('Amazing Grace');
    expect(back?.verses.length).toBeGreaterThan(0);
  });

  it.each(['musicxml', 'mxl', 'abc', 'words'])(
    'gives %s that brings what the team knows of the song with it, never its private note',
    async (as) => {
      const { api } = await ownApp();
      const song = await bringHymn(api);
      const person = { layer: 'words', name: 'John Newton', born: 1725, died: 1807, year: 1779 };
      const rights = { layer: 'words', status: 'protected', holder: 'A & B', licence: '12', reason: '', where: '' }; // prettier-ignore
      const details = {
        firstLine: 'Amazing grace! How sweet the sound',
        hymnMeter: 'CM',
        people: [person],
        themes: ['grace', 'trust'],
        scripture: ['Psalm 23; 24', 'John 9:25'],
        language: 'en',
        rights: [rights],
      };
      await api
        .put(`/api/songs/${song.id}/details`)
        .set('if-match', '"v1"')
        .send({ details, privateNote: 'Hannah-cries' })
        .expect(200);
      const { bytes } = await fileOf(api, song, as);
      expect(bytes.toString('latin1')).not.toContain('Hannah');
      const other = (await ownApp()).api;
      const format = as === 'mxl' ? 'musicxml' : as;
      const brought = await other.post('/api/songs').send({ format, bytes: bytes.toString('base64') }); // prettier-ignore
      expect(brought.body).toMatchObject({ details, privateNote: '' });
    },
  );

  it('gives MIDI that another program reads', async () => {
    const { api } = await ownApp();
    const { bytes } = await fileOf(api, await bringHymn(api), 'midi');
    // midi-file reads Standard MIDI Files on its own.
    const { header, tracks } = midiFile.parseMidi(bytes);
    expect(header.format).toBe(1);
    expect(tracks.flat().filter(({ type }) => type === 'noteOn').length).toBeGreaterThan(100);
  });

  it.each(['musicxml', 'mxl', 'abc', 'midi'])(
    'says why a song without rhythm cannot be %s; it can be words',
    async (as) => {
      const { api } = await ownApp();
      const brought = await api.post('/api/songs').send({ format: 'words', text: WORDS });
      const song = brought.body as Song;
      const refused = await api.get(`/api/songs/${song.id}/file?as=${as}`);
      expect(expectProblem(refused, 'not-possible').detail).toContain('no rhythm');
      const text = await api.get(`/api/songs/${song.id}/file?as=words`).expect(200);
      expect(text.text).toContain('Lamps on the water');
    },
  );

  it('refuses other formats and songs that are not there', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    expectProblem(await api.get(`/api/songs/${song.id}/file?as=pdf`), 'invalid-input');
    expectProblem(await api.get(`/api/songs/none/file?as=abc`), 'no-such-song');
  });
});

const file = (name: string, content: string | Uint8Array) => ({
  name,
  bytes: Buffer.from(content).toString('base64'),
});

async function bring(api: Api, files: object[], doubles?: string): Promise<ImportLine[]> {
  const answer = await api
    .post('/api/imports')
    .send({ files, ...(doubles && { doubles }) })
    .expect(200);
  return (answer.body as ImportReport).lines;
}
const outcomes = (lines: readonly ImportLine[]) =>
  lines.map(({ file: name, title, outcome }) => `${name}: ${title ?? '–'}: ${outcome}`);

const countOf = async (api: Api): Promise<number> =>
  ((await api.get('/api/songs')).body as { songs: unknown[] }).songs.length;

const BOOK =
  'X:1\nT:One\nM:4/4\nL:1/4\nK:C\nCDEF|C4|]\n\nX:2\nT:Broken\nM:4/4\nL:1/4\nK:C\nCDE|"Am F|\n\nX:3\nT:Three\nM:4/4\nL:1/4\nK:G\nGABc|G4|]\n';

describe('POST /api/imports', () => {
  it('brings every hymn of a folder, and says of each what became of it', async () => {
    const { api } = await ownApp();
    const files = HYMN_FILES.map((name) => file(name, readFileSync(`seed-data/hymns/${name}`)));
    const lines = await bring(api, files);
    expect(lines).toHaveLength(24);
    expect(lines.filter(({ song }) => song === null)).toEqual([]);
    for (const { outcome, why } of lines) expect(why === '').toBe(outcome === 'in');
    expect(await countOf(api)).toBe(24);
    const again = await bring(api, files);
    expect(new Set(again.map(({ outcome }) => outcome))).toEqual(new Set(['left out']));
    expect(again[0]?.double?.because).toBe('title');
    expect(again[0]?.why).toContain('has the same title and is in the book.');
    expect(await countOf(api)).toBe(24);
  });

  it('has a line for each tune of a file; a broken one keeps no other out', async () => {
    const { api } = await ownApp();
    const lines = await bring(api, [file('book.abc', BOOK)]);
    expect(outcomes(lines)).toEqual([
      'book.abc: One: in',
      'book.abc: –: failed',
      'book.abc: Three: in',
    ]);
    expect(lines[1]?.problems[0]?.line, 'counted in the whole file').toBe(13);
    expect(lines[1]?.why).toMatch(/^Line 13: /);
    const third = await api.get(`/api/songs/${lines[2]?.song ?? ''}/source`).expect(200);
    expect(third.text).toBe(BOOK.slice(BOOK.indexOf('X:3')));
  });

  it('brings every format, told by what is in the file and not by its name', async () => {
    const { api } = await ownApp();
    const score = hymn('Silent_Night-Stille_Nacht.abc');
    const named = (title: string) => ({
      ...score,
      facts: { ...score.facts, title },
      verses: [],
      voices: score.voices.map((voice) => ({
        ...voice,
        notes: voice.notes.map(({ syllables: _, ...note }) => note),
      })),
      form: [],
    });
    const lines = await bring(
      api,
      [
        file('a.bin', MusicXml.write(named('In XML'))),
        file('b', MusicXml.compress(named('In a zip'))),
        file('c.doc', WORDS),
        file('e.abc', ''),
      ],
      'bring',
    );
    expect(lines.map(({ file: name, outcome }) => [name, outcome !== 'failed'])).toEqual([
      ['a.bin', true],
      ['b', true],
      ['c.doc', true],
      ['e.abc', false],
    ]);
    expect(lines.slice(0, 3).map(({ title }) => title)).toEqual(['In XML', 'In a zip', 'Lamps']);
  });

  it('knows a song again by its title, its first line, or its melody in another key', async () => {
    const { api } = await ownApp();
    const grace = await bringHymn(api);
    const score = hymn('Amazing_Grace-New_Britain.abc');
    const titled = (title: string, other = score): string =>
      Abc.write({ ...other, facts: { ...other.facts, title } });
    const voice = score.voices.find(({ id }) => id === score.melody);
    if (!voice) throw new Error('it has a tune');
    const tuneAlone = {
      ...Transpose.score(score, { tonic: 'Eb', mode: 'major' }),
      facts: { ...score.facts, title: 'New Britain, for clarinet' },
    };
    const wordless = {
      ...tuneAlone,
      verses: [],
      form: [],
      voices: tuneAlone.voices.map((each) => ({
        ...each,
        notes: each.notes.map(({ syllables: _, ...note }) => note),
      })),
    };
    const files = [
      file('same.abc', titled('AMAZING GRACE!')),
      file('line.abc', titled('How sweet the sound')),
      file('melody.musicxml', MusicXml.write(wordless)),
      file('other.abc', await hymnBytes('Silent_Night-Stille_Nacht')),
    ];
    const lines = await bring(api, files);
    expect(lines.map(({ double }) => double?.because ?? null)).toEqual([
      'title',
      'first line',
      'melody',
      null,
    ]);
    expect(lines.map(({ double }) => double?.id ?? null).slice(0, 3)).toEqual(
      [1, 2, 3].map(() => grace.id),
    );
    expect(await countOf(api)).toBe(2);
    const brought = await bring(api, files.slice(0, 3), 'bring');
    expect(brought.every(({ song, double }) => song !== null && double !== null)).toBe(true);
    expect(await countOf(api)).toBe(5);
  });

  it('finds every planted double of every hymn, in any key', async () => {
    const { api } = await ownApp();
    const files = HYMN_FILES.map((name) => file(name, readFileSync(`seed-data/hymns/${name}`)));
    await bring(api, files);
    const planted = HYMN_FILES.map((name, i) => {
      const score = hymn(name);
      const keys = Keys.keysToOffer(score.keys[0]?.key.mode ?? 'major');
      const moved = Transpose.score(score, keys[(i * 7) % 12] ?? { tonic: 'C', mode: 'major' });
      return file(
        `${i}.abc`,
        Abc.write({ ...moved, facts: { ...moved.facts, title: `Copy ${i}` } }),
      );
    });
    const lines = await bring(api, planted);
    expect(
      lines.filter(({ outcome }) => outcome !== 'left out').map(({ file: name }) => name),
    ).toEqual([]);
  });

  it('does not bring a song twice that comes in two files at the same moment', async () => {
    const { api } = await ownApp();
    const files = [file('grace.abc', await hymnBytes('Amazing_Grace-New_Britain'))];
    const both = await Promise.all([bring(api, files), bring(api, files)]);
    expect(both.flat().map(({ outcome }) => outcome).sort()).toContain('left out'); // prettier-ignore
    expect(await countOf(api)).toBe(1);
  });

  it('does not take other words to the same tune for the same song', async () => {
    const { api } = await ownApp();
    await bringHymn(api);
    const score = hymn('Amazing_Grace-New_Britain.abc');
    const other = {
      ...score,
      facts: { ...score.facts, title: 'Another text' },
      verses: score.verses.slice(0, 1).map(({ number, label }) => ({ number, label })),
      form: score.form.slice(0, 1),
      voices: score.voices.map((voice) => ({
        ...voice,
        notes: voice.notes.map(({ syllables, ...note }) =>
          syllables?.[0] ? { ...note, syllables: [{ text: 'la' }] } : note,
        ),
      })),
    };
    const lines = await bring(api, [file('other.abc', Abc.write(other))]);
    expect(lines[0]?.double).toBe(null);
  });

  it('calls a song without a title as its file is called', async () => {
    const { api } = await ownApp();
    const lines = await bring(api, [
      file('hymns/Morning_Song.abc', 'X:1\nM:4/4\nL:1/4\nK:C\nCDEF|\n'),
    ]);
    expect(lines[0]?.title).toBeTruthy();
    expect(lines[0]?.song).not.toBe(null);
  });

  it('takes more than other routes do, and says how much', async () => {
    const { api } = await ownApp();
    const big = '%'.repeat(3 * 1024 * 1024);
    const lines = await bring(api, [file('big.abc', `X:1\nT:Big\nK:C\nCDEF|\n${big}`)]);
    expect(lines[0]?.outcome).toBe('failed');
    const huge = await api.post('/api/imports').send({
      files: [1, 2, 3].map((i) => file(`${i}`, Buffer.alloc(7 * 1024 * 1024))),
    });
    expect(expectProblem(huge, 'too-large').detail).toContain('more than 24 megabytes');
    expectProblem(await api.post('/api/imports').send({ files: [] }), 'invalid-input');
  });
});
