import { describe, expect, it } from 'vitest';
import type { Song } from '#server/contract/songs.ts';
import { ownApp, tagOf } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';

describe('POST /api/songs with words and chords', () => {
  const LAMP =
    'The Evening Lamp\n\nVerse 1\nG        C    G\nA lamp in the window\n\nRefrain\nD     G\nBurn low\n\nRefrain\n';

  it('brings it: title, key as a doubt, words, chords, the refrain by its name', async () => {
    const { api } = await ownApp();
    const { body } = await api.post('/api/songs').send({ format: 'words', text: LAMP }).expect(201);
    const song = body as Song;
    expect(song.score.facts.title).toBe('The Evening Lamp');
    expect(song.score.untimed).toBe(true);
    expect(song.score.keys[0]).toMatchObject({ key: { tonic: 'G', mode: 'major' }, sure: false });
    expect(song.score.form.map(({ section }) => section)).toEqual([
      'verse-1',
      'refrain',
      'refrain',
    ]);
    expect(song.score.chords).toHaveLength(5);
    expect(song.warnings.map(({ code }) => code)).toEqual(['guess-key']);
  });

  it('keeps each byte of the source, and says what kind it is', async () => {
    const { api } = await ownApp();
    const bytes = Buffer.from('\uFEFFL\u2019\u00E9toile\r\n\r\nAm\r\nLumi\u00E8re\r\n', 'utf8');
    const { body } = await api
      .post('/api/songs')
      .send({ format: 'words', bytes: bytes.toString('base64') })
      .expect(201);
    const { id, source } = body as Song;
    expect(source.format).toBe('words');
    const kept = await api.get(`/api/songs/${id}/source`).responseType('blob').expect(200);
    expect(kept.headers['content-type']).toBe('text/plain');
    expect(Buffer.compare(kept.body as Buffer, bytes)).toBe(0);
  });

  it('takes what a person said of a line or a word before any rule', async () => {
    const { api } = await ownApp();
    const text = 'Go\n\nGo\nhome at last\nDo D\n';
    const marks = [
      { line: 3, as: 'chords' },
      { line: 5, column: 4, as: 'nothing' },
      { line: 5, as: 'words' },
    ];
    const { body } = await api
      .post('/api/songs')
      .send({ format: 'words', text, marks })
      .expect(201);
    const { score } = body as Song;
    expect(score.chords.map(({ chord }) => chord?.kind)).toEqual(['diminished']);
    const words = score.voices[0]?.notes.map(({ syllables }) => syllables?.[0]?.text);
    expect(words).toEqual(['home', 'at', 'last', 'Do']);
  });

  it('refuses a text with nothing in it, with the line', async () => {
    const { api } = await ownApp();
    const answer = await api.post('/api/songs').send({ format: 'words', text: ' \n\n' });
    expect(expectProblem(answer, 'unreadable-song').problems?.[0]).toMatchObject({
      code: 'nothing-here',
      line: 1,
    });
    const long = await api.post('/api/songs').send({ format: 'words', text: 'la '.repeat(400) });
    expect(expectProblem(long, 'unreadable-song').problems?.[0]?.code).toBe('line-too-long');
  });

  it('answers 400 to marks that name no place', async () => {
    const { api } = await ownApp();
    const marks = [{ line: 0, as: 'tune' }];
    const answer = await api.post('/api/songs').send({ format: 'words', text: LAMP, marks });
    const fields = expectProblem(answer, 'invalid-input').problems?.map(({ field }) => field);
    expect(fields).toEqual(expect.arrayContaining(['marks.0.line', 'marks.0.as']));
  });

  it('is a song like any other: key answered, chord corrected, no notes to engrave a part from', async () => {
    const { api } = await ownApp();
    const { body } = await api.post('/api/songs').send({ format: 'words', text: LAMP }).expect(201);
    const { id, score } = body as Song;
    const at = score.chords[1]?.at ?? 0;
    const corrected = await api
      .patch(`/api/songs/${id}`)
      .set('if-match', tagOf(1))
      .send({ chord: { at, symbol: 'Am7' }, key: { tonic: 'G', mode: 'major' } })
      .expect(200);
    const after = (corrected.body as Song).score;
    expect(after.chords[1]).toMatchObject({ at, chord: { root: 'A', kind: 'minor-seventh' } });
    expect(after.keys[0]?.sure).toBe(true);
    const sheet = await api.get(`/api/songs/${id}/sheet?role=keys`);
    const { problems } = expectProblem(sheet, 'not-possible');
    expect(problems?.[0]?.code).toBe('no-rhythm');
    const fit = await api.get(`/api/songs/${id}/key-fit`).expect(200);
    expect(fit.body.table.rows).toEqual([]);
    expectProblem(await api.get(`/api/songs/${id}/musicxml`), 'not-possible');
  });
});
