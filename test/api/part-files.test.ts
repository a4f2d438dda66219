import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { Midi, MusicXml, type Score } from '#music';
import { addMember, bringHymn, ownApp, tagOf, type TestApp } from '#test/support/api.ts';
import { heardTracks } from '#test/support/midi-heard.ts';
import { expectProblem } from '#test/support/problem.ts';
import { songItem } from '#test/support/service.ts';
import {
  addService,
  ELSEWHERE,
  makeLink,
  openLink,
  setPassphrase,
} from '#test/support/visitors.ts';

type Api = TestApp['api'];

/** A file as it is sent: its bytes and its heads. */
async function fileOf(api: Api, path: string, cookie = '') {
  const answer = await api.get(path).set('cookie', cookie).responseType('blob').expect(200);
  const bytes = new Uint8Array(answer.body as Buffer);
  return { bytes, type: answer.type, named: String(answer.headers['content-disposition']) };
}

function scoreOf(bytes: Uint8Array): Score {
  const read = MusicXml.read(bytes);
  if (!read.ok) throw new Error(read.problems[0]?.message);
  return read.value;
}

const notesOf = (score: Score, id: string) =>
  score.voices.find((voice) => voice.id === id)?.notes ?? [];

async function oneSong() {
  const own = await ownApp();
  const song = await bringHymn(own.api);
  const ines = await addMember(own.api, { name: 'Ines' });
  return { ...own, song, ines, path: `/api/songs/${song.id}/part?player=${ines.id}` };
}

describe('GET /api/songs/:id/part', () => {
  it('gives the part of the sheet as MusicXML, named by song, role and player', async () => {
    const { api, path } = await oneSong();
    const { bytes, type, named } = await fileOf(api, `${path}&level=beginner&pedal=1`);
    expect(type).toBe('application/vnd.recordare.musicxml+xml');
    expect(named).toContain('filename="Amazing Grace keys for Ines.musicxml"');
    const score = scoreOf(bytes);
    expect(score.voices.map(({ id, group }) => `${group} ${id}`)).toEqual([
      'Singer melody',
      'Keyboard right',
      'Keyboard left',
    ]);
    expect(notesOf(score, 'left').some(({ pedal }) => pedal === 'change')).toBe(true);
    expect(score.facts.other).toContainEqual([
      'part',
      'keys, right hand rung 1, left hand rung 1, with pedal, for Ines',
    ]);
  });

  it('gives the same compressed, and as MIDI for practice with count and click', async () => {
    const { api, path } = await oneSong();
    const plain = scoreOf((await fileOf(api, path)).bytes);
    const packed = await fileOf(api, `${path}&as=mxl`);
    expect(packed.type).toBe('application/vnd.recordare.musicxml');
    expect(scoreOf(packed.bytes)).toEqual(plain);
    const midi = await fileOf(api, `${path}&as=midi&countIn=1&click=1&passes=form`);
    expect(midi.type).toBe('audio/midi');
    expect(midi.named).toContain('.mid"');
    expect(heardTracks(midi.bytes).map(({ name }) => name)).toEqual(
      expect.arrayContaining(['Singer', 'Right hand', 'Left hand', 'Count-in', 'Click']),
    );
    expect(Midi.read(midi.bytes).ok).toBe(true);
  });

  it('is asked for as its sheet is: role, rungs and key', async () => {
    const { api, path } = await oneSong();
    const bass = scoreOf((await fileOf(api, `${path}&role=bass&key=F`)).bytes);
    expect(bass.voices.map(({ id, clef }) => `${id} ${clef}`)).toEqual(['bass bass-8']);
    expect(bass.keys[0]?.key).toEqual({ tonic: 'F', mode: 'major' });
    const octaves = scoreOf((await fileOf(api, `${path}&left=2`)).bytes);
    expect(notesOf(octaves, 'left').some(({ pitches }) => pitches.length === 2)).toBe(true);
  });

  it('refuses what has no part, nobody and no song', async () => {
    const { api, song, path } = await oneSong();
    expectProblem(await api.get(`${path}&role=drums`), 'not-possible');
    expectProblem(await api.get(`/api/songs/${song.id}/part?player=nobody`), 'no-such-member');
    expectProblem(await api.get('/api/songs/nothing/part'), 'no-such-song');
    expectProblem(await api.get(`${path}&as=pdf`), 'invalid-input');
  });
});

describe('GET /api/services/:id/pages/:member/files', () => {
  const text = (bytes: Uint8Array | undefined) => new TextDecoder().decode(bytes);

  async function aService() {
    const own = await oneSong();
    const { api, song, ines } = own;
    const silent = await bringHymn(api, 'Silent_Night-Stille_Nacht');
    const service = await addService(api, {
      title: 'Advent',
      date: '2026-11-29',
      items: [songItem('a', silent.id), songItem('b', song.id)],
      people: [{ member: ines.id, roles: ['keys', 'bass', 'drums'] }],
    });
    return { ...own, silent, service, files: `/api/services/${service.id}/pages/${ines.id}/files` };
  }

  it('gives every part of a person in the order of the service, and says what is not in it', async () => {
    const { api, files } = await aService();
    const { bytes, type, named } = await fileOf(api, files);
    expect(type).toBe('application/zip');
    expect(named).toContain('filename="Advent 2026-11-29 for Ines.zip"');
    const found = unzipSync(bytes);
    expect(Object.keys(found)).toEqual([
      '01 Silent Night, keys.musicxml',
      '01 Silent Night, keys.mid',
      '01 Silent Night, bass.musicxml',
      '01 Silent Night, bass.mid',
      '02 Amazing Grace, keys.musicxml',
      '02 Amazing Grace, keys.mid',
      '02 Amazing Grace, bass.musicxml',
      '02 Amazing Grace, bass.mid',
      'Not in here.txt',
    ]);
    expect(text(found['Not in here.txt'])).toContain('01 Silent Night: drums follows the words');
    const keys = scoreOf(found['02 Amazing Grace, keys.musicxml'] ?? new Uint8Array());
    expect(keys.facts.title).toBe('Amazing Grace');
    expect((await fileOf(api, files)).bytes).toEqual(bytes);
  });

  it('gives one kind where one is asked for, in the key it is read in', async () => {
    const { api, files, ines } = await aService();
    await api
      .patch(`/api/members/${ines.id}`)
      .set('if-match', tagOf(ines.version))
      .send({ instruments: { transposeButton: true } })
      .expect(200);
    const found = unzipSync((await fileOf(api, `${files}?as=musicxml&played=b.C`)).bytes);
    expect(Object.keys(found).filter((name) => name.endsWith('.mid'))).toEqual([]);
    const keys = scoreOf(found['02 Amazing Grace, keys.musicxml'] ?? new Uint8Array());
    expect(keys.keys[0]?.key.tonic).toBe('C');
    expect(keys.facts.other.find(([name]) => name === 'played key')?.[1]).toMatch(/^play in C, /);
    // The bass reads what sounds.
    const bass = scoreOf(found['02 Amazing Grace, bass.musicxml'] ?? new Uint8Array());
    expect(bass.keys[0]?.key.tonic).not.toBe('C');
  });

  it('is open to whoever holds the link of the service, and to nobody else', async () => {
    const { api, service, ines, files } = await aService();
    const made = await makeLink(api, service.id);
    await setPassphrase(api);
    const cookie = await openLink(api, made);
    const path = `/api/set/${made.link.id}/pages/${ines.id}/files`;
    const { bytes } = await fileOf(api, path, cookie);
    expect(Object.keys(unzipSync(bytes))).toContain('01 Silent Night, keys.mid');
    expectProblem(await api.get(path).set(ELSEWHERE), 'wrong-link');
    expectProblem(await api.get(files).set(ELSEWHERE), 'not-signed-in');
  });

  it('says nothing of where a child’s voice sits by link', async () => {
    const { api, song } = await oneSong();
    const child = await addMember(api, { name: 'Mia', child: true });
    const service = await addService(api, {
      items: [songItem('a', song.id)],
      people: [{ member: child.id, roles: ['lead voice'], voice: { low: 'C5', high: 'D5' } }],
    });
    const made = await makeLink(api, service.id);
    const cookie = await openLink(api, made);
    const byLink = await fileOf(api, `/api/set/${made.link.id}/pages/${child.id}/files`, cookie);
    const all = await fileOf(api, `/api/services/${service.id}/pages/${child.id}/files`);
    const wordsOf = ({ bytes }: { bytes: Uint8Array }) =>
      Object.values(unzipSync(bytes)).map(text).join('\n');
    expect(wordsOf(all)).toMatch(/<words[^>]*>too low</);
    expect(wordsOf(byLink)).not.toMatch(/too low|>high<|Mia/);
    expect(byLink.named).not.toContain('Mia');
  });

  it('refuses a person who does not serve, and a service that is not there', async () => {
    const { api, service, ines } = await aService();
    const other = await addMember(api, { name: 'Tom' });
    expectProblem(await api.get(`/api/services/${service.id}/pages/${other.id}/files`), 'no-such-person'); // prettier-ignore
    expectProblem(await api.get(`/api/services/nothing/pages/${ines.id}/files`), 'no-such-service');
  });
});
