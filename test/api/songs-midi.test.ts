import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Abc, Midi } from '#music';
import type { Song } from '#server/contract/songs.ts';
import { ownApp } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';

const read = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
const hymn = read.ok ? read.value[0] : undefined;
if (!hymn) throw new Error('the hymn is there');
const bytes = Midi.write(hymn);

describe('POST /api/songs with MIDI', () => {
  it('takes the track for the tune that a person names, as it would be read on the tablet', async () => {
    const { api } = await ownApp();
    const base64 = Buffer.from(bytes).toString('base64');
    const track = Midi.tracks(bytes).at(-1)?.index ?? 0;
    expect(track).toBeGreaterThan(0);
    const expected = Midi.read(bytes, { melody: track });
    const usual = Midi.read(bytes);
    if (!expected.ok || !usual.ok) throw new Error('the file can be read');
    const { body } = await api
      .post('/api/songs')
      .send({ format: 'midi', bytes: base64, tune: track })
      .expect(201);
    const song = body as Song;
    expect(song.score.voices).toEqual(expected.value.voices);
    expect(song.score.melody).toBe(expected.value.melody);
    expect(song.score.melody).not.toBe(usual.value.melody);
    expect(song.source.format).toBe('midi');
  });

  it('refuses a track that the file has not', async () => {
    const { api } = await ownApp();
    const base64 = Buffer.from(bytes).toString('base64');
    const answer = await api.post('/api/songs').send({ format: 'midi', bytes: base64, tune: 99 });
    expectProblem(answer, 'unreadable-song');
  });
});
