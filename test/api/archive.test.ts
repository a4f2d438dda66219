import { createHash } from 'node:crypto';
import { unzipSync, zipSync, type Zippable } from 'fflate';
import { describe, expect, it } from 'vitest';
import { Abc, MusicXml, NO_DETAILS, QUARTER } from '#music';
import type { Arrangement } from '#server/contract/arrangements.ts';
import type { Song } from '#server/contract/songs.ts';
import {
  addMember,
  arrangementOf,
  bringHymn,
  ownApp,
  tagOf,
  type TestApp,
} from '#test/support/api.ts';
import {
  bringBack,
  entriesOf,
  GRACE,
  put,
  takeOut,
  text,
  twoSongs,
} from '#test/support/archives.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { expectProblem } from '#test/support/problem.ts';

type Api = TestApp['api'];

const NOTE = 'Hannah-cries-at-verse-three';

/** What of a song is its own, whatever team it is in. */
async function ownOf(api: Api, id: string) {
  const { score, source, details, answers, corrections, warnings } = (
    await api.get(`/api/songs/${id}`).expect(200)
  ).body as Song;
  const { key, tempo, density, form } = await arrangementOf(api, id);
  const bytes = await api.get(`/api/songs/${id}/source`).responseType('blob').expect(200);
  const sourceHash = createHash('sha256')
    .update(bytes.body as Buffer)
    .digest('hex');
  return {
    song: { score, source, details, answers, corrections, warnings, sourceHash },
    arrangement: {
      key,
      tempo,
      density,
      form:
        form && form.map(({ lead: _, ...pass }: NonNullable<Arrangement['form']>[number]) => pass),
    },
  };
}

async function wholeOf(api: Api) {
  const { songs } = (await api.get('/api/songs').expect(200)).body as {
    songs: { id: string; title: string }[];
  };
  const all = [];
  for (const { id } of songs) all.push(await ownOf(api, id));
  return all;
}

/** Songs of every kind: brought, answered, corrected, edited, with facts, arranged, without rhythm, with one title. */
async function fill(api: Api): Promise<void> {
  for (const name of HYMN_FILES.slice(0, 6)) await bringHymn(api, name.replace('.abc', ''));
  const child = await bringHymn(api, 'What_Child_Is_This-Greensleeves');
  await api
    .patch(`/api/songs/${child.id}`)
    .set('if-match', tagOf(1))
    .send({ key: { tonic: 'E', mode: 'minor' }, chord: { at: 0, length: QUARTER, symbol: 'Em' } })
    .expect(200);
  const ruth = await addMember(api, { name: 'Ruthanna', roles: ['lead voice'] });
  const [section] = child.score.sections;
  await api
    .patch(`/api/songs/${child.id}/arrangement`)
    .set('if-match', tagOf((await arrangementOf(api, child.id)).version))
    .send({
      key: { tonic: 'D', mode: 'minor' },
      density: 'beat',
      tempo: { beat: QUARTER, perMinute: 96 },
      form: [{ section: section?.id, verse: 1, texture: 'held', lead: ruth.id }],
      lead: ruth.id,
    })
    .expect(200);
  const silent = await bringHymn(api, 'Silent_Night-Stille_Nacht');
  const facts = { ...silent.score.facts, title: 'Silent: Night / “Stille” Nacht?' };
  await api
    .put(`/api/songs/${silent.id}/score`)
    .set('if-match', tagOf(1))
    .send({ score: { ...silent.score, facts } })
    .expect(200);
  const details = { ...NO_DETAILS, themes: ['birth'], scripture: ['Luke 2:7–16'], language: 'de' };
  await api
    .put(`/api/songs/${silent.id}/details`)
    .set('if-match', tagOf(2))
    .send({ details, privateNote: NOTE })
    .expect(200);
  const lamps = 'Lamps\n\nG        C\nLamps on the water\n';
  await api.post('/api/songs').send({ format: 'words', text: lamps }).expect(201);
  await api.post('/api/songs').send({ format: 'words', text: lamps }).expect(201);
  await api.post('/api/songs').send({ format: 'written', score: child.score }).expect(201);
  const xml = MusicXml.write(silent.score);
  await api.post('/api/songs').send({ format: 'musicxml', text: xml }).expect(201);
}

describe('GET and POST /api/library', () => {
  it('gives every song back as it was: music, answers, corrections, facts, arrangement, source', async () => {
    const one = await ownApp();
    await fill(one.api);
    const archive = await takeOut(one.api);
    const other = await ownApp();
    const lines = await bringBack(other.api, archive, 'bring');
    expect(lines.filter(({ outcome }) => outcome !== 'in')).toEqual([]);
    const [before, after] = [await wholeOf(one.api), await wholeOf(other.api)];
    const nameOf = ({ song, arrangement }: (typeof before)[number]): string =>
      `${song.score.facts.title} ${song.sourceHash} ${arrangement.density}`;
    const named = (all: typeof before) => all.sort((x, y) => (nameOf(x) < nameOf(y) ? -1 : 1));
    expect(named(after)).toEqual(named(before));
    expect(after).toHaveLength(12);
  }, 120_000);

  it('is the same bytes for the same songs, and leaves doubles out when it is brought again', async () => {
    const { api } = await ownApp();
    await bringHymn(api);
    await bringHymn(api, 'Silent_Night-Stille_Nacht');
    const archive = await takeOut(api);
    expect(Buffer.compare(await takeOut(api), archive)).toBe(0);
    const lines = await bringBack(api, archive);
    expect(lines.map(({ outcome, double }) => [outcome, double?.because])).toEqual([
      ['left out', 'title'],
      ['left out', 'title'],
    ]);
  });

  it('brings every song into an empty book, those that are alike too', async () => {
    const { api } = await ownApp();
    await bringHymn(api);
    await bringHymn(api);
    const other = await ownApp();
    const lines = await bringBack(other.api, await takeOut(api));
    expect(lines.map(({ outcome }) => outcome)).not.toContain('left out');
    expect(lines).toHaveLength(2);
  });

  it('holds open formats, named by the songs, and neither private notes nor people', async () => {
    const { api } = await ownApp();
    await fill(api);
    const archive = await takeOut(api);
    const files = unzipSync(archive);
    // Far from the forty to one at which an archive is no longer unpacked.
    const unpacked = Object.values(files).reduce((sum, { length }) => sum + length, 0);
    expect(unpacked / archive.length).toBeLessThan(20);
    const names = Object.keys(files);
    expect(names).toContain('songs/Amazing Grace/song.musicxml');
    expect(names).toContain('songs/Amazing Grace/song.abc');
    expect(names).toContain('songs/Amazing Grace/source.abc');
    expect(names).toContain('songs/Lamps/song.txt');
    expect(names).toContain('songs/Lamps (2)/song.txt');
    expect(names).toContain('songs/Silent Night “Stille” Nacht/song.musicxml');
    for (const [name, bytes] of Object.entries(files)) {
      const text = Buffer.from(bytes).toString('utf8');
      expect(text.includes(NOTE) || text.includes('Ruthanna'), name).toBe(false);
      if (name.endsWith('song.abc')) expect(Abc.read(bytes).ok, name).toBe(true);
      if (name.endsWith('.musicxml')) expect(MusicXml.read(text).ok, name).toBe(true);
    }
  });
});

/** Without those of the names. */
const without = (files: Record<string, Uint8Array>, ...names: string[]): Zippable =>
  Object.fromEntries(Object.entries(files).filter(([name]) => !names.includes(name)));

async function outcomes(files: Zippable): Promise<(readonly [string, string, string])[]> {
  const { api } = await ownApp();
  const lines = await bringBack(api, zipSync(files));
  return lines.map(({ file, outcome, why }) => [file, outcome, why]);
}

describe('a broken archive', () => {
  it.each<[string, Uint8Array]>([
    ['what is no zip', text('a song')],
    ['an empty zip', zipSync({})],
    ['a zip of other files', zipSync({ 'a.txt': text('a') })],
    ['a broken manifest', zipSync({ 'manifest.json': text('{"layout":') })],
    [
      'another layout',
      zipSync({ 'manifest.json': text('{"layout":"other","version":1,"songs":[]}') }),
    ],
    [
      'a later layout',
      zipSync({ 'manifest.json': text('{"layout":"partbook-library","version":2,"songs":[]}') }),
    ],
    ['names that lead out', zipSync({ '../../a.json': text('a'), 'manifest.json': text('{}') })],
    ['names from the root', zipSync({ '/etc/a.json': text('a') })],
    ['names of another system', zipSync({ 'songs\\..\\a': text('a') })],
  ])('is refused as a whole: %s', async (_, bytes) => {
    const { api } = await ownApp();
    expectProblem(await put(api, bytes), 'unreadable-archive');
    expect((await api.get('/api/songs')).body).toEqual({ songs: [] });
  });

  it('is refused as JSON, with what is understood', async () => {
    const { api } = await ownApp();
    const problem = expectProblem(
      await api.post('/api/library').send({ bytes: 'UEsFBg==' }),
      'wrong-media-type',
    );
    expect(problem.detail).toBe('Only application/zip is understood here. Nothing was changed.');
  });

  it('is refused when it is cut off', async () => {
    const whole = zipSync(await twoSongs());
    const { api } = await ownApp();
    expectProblem(await put(api, whole.subarray(0, whole.length >> 1)), 'unreadable-archive');
  });

  it('is refused when it would unpack to more than any library holds', async () => {
    const { api } = await ownApp();
    // A gigabyte and more of noughts, by what it says of itself.
    const bytes = zipSync({ 'songs/1/score.json': new Uint8Array(5_000_000) });
    for (const entry of entriesOf(bytes)) entry.claim(0x7fffffff);
    expect(bytes.length).toBeLessThan(20_000);
    const began = performance.now();
    expectProblem(await put(api, bytes), 'unreadable-archive');
    expect(performance.now() - began).toBeLessThan(5000);
  }, 60_000);

  it('cannot unpack a file beyond the size it says it has', async () => {
    const files = await twoSongs();
    const bytes = zipSync(files);
    for (const entry of entriesOf(bytes)) if (entry.name.startsWith(`${GRACE}/s`)) entry.claim(10);
    const { api } = await ownApp();
    const lines = await bringBack(api, bytes);
    expect(lines.map(({ file, outcome }) => [file, outcome])).toEqual([
      [GRACE, 'failed'],
      ['songs/Silent Night', 'in'],
    ]);
  });

  it('gives what is whole and says what is not: files that are missing or changed', async () => {
    const files = await twoSongs();
    expect(await outcomes(without(files, `${GRACE}/score.json`))).toEqual([
      [GRACE, 'in with guesses', 'score.json is missing from the archive, or cannot be unpacked.'],
      ['songs/Silent Night', 'in', ''],
    ]);
    const changed = await outcomes({ ...files, [`${GRACE}/score.json`]: text('{}') });
    expect(changed[0]?.slice(1)).toEqual([
      'in with guesses',
      'score.json is not what was put into the archive: it was changed or damaged since.',
    ]);
    const none = ['score.json', 'song.musicxml', 'song.abc'].map((name) => `${GRACE}/${name}`);
    const gone = await outcomes(without(files, ...none));
    expect(gone[0]?.slice(1)).toEqual(['failed', 'No file of this song’s music is whole.']);
    expect(gone[1]?.[1]).toBe('in');
  });

  it('reports a manifest that lies, song by song', async () => {
    const files = await twoSongs();
    const manifest = JSON.parse(Buffer.from(files['manifest.json'] ?? []).toString()) as {
      songs: Record<string, unknown>[];
    };
    const [grace, silent] = manifest.songs;
    const evil = text(JSON.stringify({ facts: { title: 'Evil' }, bars: [] }));
    const lying = {
      ...manifest,
      songs: [
        { ...grace, folder: '../../etc' },
        { ...grace, arrangement: { key: 'G' } },
        { ...grace, corrections: [{ at: -1, length: 0, symbol: 'H' }] },
        null,
        { ...grace, folder: 'songs/Nowhere' },
        {
          ...grace,
          folder: 'songs/Evil',
          files: { 'score.json': createHash('sha256').update(evil).digest('hex') },
        },
        silent,
      ],
    };
    const all = await outcomes({
      ...files,
      'songs/Evil/score.json': evil,
      'manifest.json': text(JSON.stringify(lying)),
    });
    expect(all.map(([, outcome]) => outcome)).toEqual([
      'failed',
      'failed',
      'failed',
      'failed',
      'failed',
      'failed',
      'in',
    ]);
    for (const [, outcome, why] of all) expect(why === '').toBe(outcome === 'in');
  });
});

describe('a song of an archive that was changed by hand', () => {
  const c = { at: 0, length: QUARTER, symbol: 'C' };
  const publicDomain = { layer: 'words', status: 'public domain' };
  it.each<[string, object, RegExp]>([
    ['a chord after the end', { corrections: [{ ...c, at: 1e9 }] }, /chord/i],
    ['a chord of no length', { corrections: [{ ...c, length: 0 }] }, /chord/i],
    ['what is no chord', { corrections: [{ ...c, symbol: 'Xyz' }] }, /Xyz/],
    ['a place the Bible has not', { details: { scripture: ['Psalm 999'] } }, /Psalm/],
    ['rights without a reason', { details: { rights: [publicDomain] } }, /public domain/],
  ])('is left out, and its line says why: %s', async (_, change, why) => {
    const files = await twoSongs();
    const manifest = JSON.parse(Buffer.from(files['manifest.json'] ?? []).toString()) as {
      songs: object[];
    };
    const [grace, silent] = manifest.songs;
    const changed = { ...manifest, songs: [{ ...grace, ...change }, silent] };
    const all = await outcomes({ ...files, 'manifest.json': text(JSON.stringify(changed)) });
    expect(all.map(([, outcome]) => outcome)).toEqual(['failed', 'in']);
    expect(all[0]?.[2]).toMatch(why);
    expect(all[0]?.[2]).toMatch(/[.?]$/);
  });

  it('can be edited and saved if it was let in', async () => {
    const { api } = await ownApp();
    const [line] = await bringBack(api, zipSync(await twoSongs()));
    const song = (await api.get(`/api/songs/${line?.song ?? ''}`).expect(200)).body as Song;
    await api
      .put(`/api/songs/${song.id}/score`)
      .set('if-match', tagOf(song.version))
      .send({ score: song.score })
      .expect(200);
  });
});
