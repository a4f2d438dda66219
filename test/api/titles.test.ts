import { createHash } from 'node:crypto';
import { unzipSync, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { Midi, MusicXml } from '#music';
import type { ImportReport } from '#server/contract/library.ts';
import type { Song } from '#server/contract/songs.ts';
import { bringHymn, ownApp, tagOf, type TestApp } from '#test/support/api.ts';
import { bringBack, GRACE, takeOut, text } from '#test/support/archives.ts';
import { expectProblem } from '#test/support/problem.ts';
import { hymn } from '#test/support/hymn.ts';

type Api = TestApp['api'];

const score = hymn('Amazing_Grace-New_Britain.abc');
const nameless = { ...score, facts: { ...score.facts, title: '' } };
const base64 = (bytes: Uint8Array): string => Buffer.from(bytes).toString('base64');
const NAMELESS = {
  abc: base64(text('X:1\nM:4/4\nL:1/4\nK:C\nCDEF|GABc|]\n')),
  midi: base64(Midi.write(nameless)),
  musicxml: base64(text(MusicXml.write(nameless))),
};
const FORMATS = ['abc', 'midi', 'musicxml'] as const;

async function titlesOf(api: Api): Promise<string[]> {
  const { songs } = (await api.get('/api/songs').expect(200)).body as {
    songs: { title: string }[];
  };
  return songs.map(({ title }) => title);
}

describe('A file without a title', () => {
  it.each(FORMATS)('of %s goes in by itself under the title that comes with it', async (format) => {
    const { api } = await ownApp();
    const sent = { format, bytes: NAMELESS[format], title: ' The Evening Lamp ' };
    const { score } = (await api.post('/api/songs').send(sent).expect(201)).body as Song;
    expect(score.facts.title).toBe('The Evening Lamp');
    expect(await titlesOf(api)).toEqual(['The Evening Lamp']);
  });

  it.each(FORMATS)('of %s that comes without one is never kept nameless', async (format) => {
    const { api } = await ownApp();
    const sent = { format, bytes: NAMELESS[format] };
    const { score } = (await api.post('/api/songs').send(sent).expect(201)).body as Song;
    expect(score.facts.title).toBe('Without a title');
    expect(await titlesOf(api)).toEqual(['Without a title']);
  });

  it.each(FORMATS)('of %s in a folder is called as the file is', async (format) => {
    const { api } = await ownApp();
    const files = [{ name: `folder/The_Evening_Lamp.${format}`, bytes: NAMELESS[format] }];
    const { lines } = (await api.post('/api/imports').send({ files }).expect(200))
      .body as ImportReport;
    expect(lines.map(({ title }) => title)).toEqual(['The Evening Lamp']);
    expect(await titlesOf(api)).toEqual(['The Evening Lamp']);
  });

  it('cannot be sent with an empty one', async () => {
    const { api } = await ownApp();
    for (const title of ['', '  ']) {
      const sent = { format: 'abc', bytes: NAMELESS.abc, title };
      expectProblem(await api.post('/api/songs').send(sent), 'invalid-input');
    }
    expect(await titlesOf(api)).toEqual([]);
  });
});

describe('A song that is written here', () => {
  it.each(['', ' \n '])('with the title %j is refused, and nothing is kept', async (title) => {
    const { api } = await ownApp();
    const sent = { format: 'written', score: { ...score, facts: { ...score.facts, title } } };
    const problem = expectProblem(await api.post('/api/songs').send(sent), 'broken-score');
    expect(problem.detail).toContain('A song needs a title.');
    expect(await titlesOf(api)).toEqual([]);
  });

  it.each(['', '  '])('cannot lose its title by an edit to %j', async (title) => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const untitled = { ...song.score, facts: { ...song.score.facts, title } };
    const put = api.put(`/api/songs/${song.id}/score`).set('if-match', tagOf(1));
    expectProblem(await put.send({ score: untitled }), 'broken-score');
    const patch = api.patch(`/api/songs/${song.id}`).set('if-match', tagOf(1));
    expectProblem(await patch.send({ title }), 'invalid-input');
    expect(await titlesOf(api)).toEqual(['Amazing Grace']);
  });
});

describe('An archive with a song that has no title', () => {
  it('brings it under the name of its folder', async () => {
    const { api } = await ownApp();
    await bringHymn(api);
    const files: Record<string, Uint8Array> = unzipSync(await takeOut(api));
    const before = new TextDecoder().decode(files[`${GRACE}/score.json`]);
    const emptied = text(before.replace('"title":"Amazing Grace"', '"title":""'));
    expect(emptied.length).toBeLessThan(before.length);
    const sha = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
    const manifest = new TextDecoder().decode(files['manifest.json']);
    files['manifest.json'] = text(manifest.replace(sha(text(before)), sha(emptied)));
    files[`${GRACE}/score.json`] = emptied;
    const other = await ownApp();
    const lines = await bringBack(other.api, zipSync(files));
    expect(lines.map(({ title, outcome }) => [title, outcome])).toEqual([['Amazing Grace', 'in']]);
    expect(await titlesOf(other.api)).toEqual(['Amazing Grace']);
  });
});
