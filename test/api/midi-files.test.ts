import { describe, expect, it } from 'vitest';
import { bringHymn, ownApp, type TestApp } from '#test/support/api.ts';
import { heardTracks } from '#test/support/midi-heard.ts';
import { expectProblem } from '#test/support/problem.ts';

/** General MIDI 1, percussion key map: side stick, high and low wood block; drums are channel 10. */
const [SIDE_STICK, HIGH_WOOD_BLOCK, LOW_WOOD_BLOCK] = [37, 76, 77];
const DRUMS = 9;

/** The tracks of the file, as midi-file 1.2.4 reads them, which shares no code with ours. */
async function tracksOf(api: TestApp['api'], id: string, asked = '') {
  const answer = await api
    .get(`/api/songs/${id}/file?as=midi${asked}`)
    .responseType('blob')
    .expect(200);
  const tracks = heardTracks(new Uint8Array(answer.body as Buffer));
  const keysOf = (drums: boolean) =>
    tracks
      .filter(({ channel, notes }) => notes.length > 0 && (channel === DRUMS) === drums)
      .flatMap(({ notes }) => notes.map(({ midi }) => midi));
  return { drums: keysOf(true), notes: keysOf(false) };
}

describe('GET /api/songs/:id/file?as=midi', () => {
  it('is the song alone, once through, where nothing else is asked', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const plain = await tracksOf(api, id);
    expect(plain.drums).toEqual([]);
    expect(await tracksOf(api, id, '&passes=once&countIn=0&click=0')).toEqual(plain);
  });

  it('has a count-in, a click and all passes where they are asked for', async () => {
    const { api } = await ownApp();
    const { id, score } = await bringHymn(api);
    expect(score.verses.length).toBeGreaterThan(1);
    const [plain, counted, clicked, whole] = [
      await tracksOf(api, id),
      await tracksOf(api, id, '&countIn=1'),
      await tracksOf(api, id, '&click=1'),
      await tracksOf(api, id, '&passes=form'),
    ];
    expect(new Set(counted.drums)).toEqual(new Set([SIDE_STICK]));
    expect(new Set(clicked.drums)).toEqual(new Set([HIGH_WOOD_BLOCK, LOW_WOOD_BLOCK]));
    expect([counted.notes, clicked.notes]).toEqual([plain.notes, plain.notes]);
    expect(whole.drums).toEqual([]);
    expect(whole.notes.length).toBeGreaterThan(2 * plain.notes.length);
  });

  it('refuses what it does not know', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    for (const asked of ['passes=twice', 'countIn=yes', 'click=2']) {
      const answer = await api.get(`/api/songs/${id}/file?as=midi&${asked}`);
      expectProblem(answer, 'invalid-input');
    }
  });
});
