import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Abc, QUARTER, type Tempo } from '#music';
import type { Arrangement, ArrangementChange } from '#server/contract/arrangements.ts';
import type { Member } from '#server/contract/members.ts';
import { Density } from '#server/contract/music.ts';
import type { Song } from '#server/contract/songs.ts';
import { notices } from './notice.svelte.ts';
import type { PassList } from './pass-list.svelte.ts';
import { UsualChanges } from './song-changes.svelte.ts';
import { SongPage } from './song.svelte.ts';
import { UsualTempo, usualPasses } from './song-usual.svelte.ts';

const read = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
const hymn = read.ok ? read.value[0] : undefined;
if (!hymn) throw new Error('the hymn is there');

const member = (id: string, name: string, roles: Member['roles']): Member => ({
  id,
  name,
  roles,
  level: 'beginner',
  levels: {},
  instruments: {},
  reach: 12,
  comfortable: null,
  limit: null,
  child: false,
  rangeMarkedAt: null,
  version: 1,
  deletedAt: null,
});
const PEOPLE = {
  shown: [member('r', 'Ruth', ['lead voice']), member('t', 'Tomas', ['keys'])],
};

let kept: Arrangement;
let sent: ArrangementChange[];
let page: SongPage;

/** @param tempo what the song itself says */
async function open(tempo: Tempo | null): Promise<void> {
  kept = {
    id: 'a',
    songId: 's',
    version: 1,
    key: { tonic: 'G', mode: 'major' },
    tempo: null,
    density: 'bar',
    form: null,
    lead: null,
    singers: [],
    player: null,
  };
  sent = [];
  const source = { format: 'abc', text: null };
  const song = { id: 's', version: 1, score: { ...hymn, tempo }, source, answers: {}, corrections: [] }; // prettier-ignore
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    await Promise.resolve();
    if (init.method === 'PATCH') {
      const change = JSON.parse(init.body as string) as ArrangementChange;
      sent.push(change);
      kept = { ...kept, ...change, version: kept.version + 1 } as Arrangement;
    }
    return Response.json(path.endsWith('/arrangement') ? kept : song);
  });
  page = new SongPage('s');
  await page.load();
}
const saved = () => page.saver?.retry();

afterEach(() => {
  notices.dismiss();
  vi.unstubAllGlobals();
});

describe('The usual tempo of a song', () => {
  const DOTTED: Tempo = { beat: QUARTER * 1.5, perMinute: 54 };

  it('is the song’s own until it is set; then it counts the same note', async () => {
    await open(DOTTED);
    const tempo = new UsualTempo(page);
    expect([tempo.shown, tempo.noteWords, tempo.own]).toEqual([
      '54',
      'dotted quarter notes',
      false,
    ]);
    tempo.set(' 60 ');
    expect(tempo.shown).toBe('60');
    expect(notices.current?.words).toBe('Now 60 dotted quarter notes a minute.');
    await saved();
    expect(kept.tempo).toEqual({ beat: QUARTER * 1.5, perMinute: 60 });
  });

  it('is taken back by Undo, and is the song’s own again when that is asked for', async () => {
    await open(DOTTED);
    const tempo = new UsualTempo(page);
    tempo.set('60');
    tempo.asTheSong();
    expect(notices.current?.words).toBe('The tempo is the song’s own: 54 a minute.');
    await notices.undo();
    expect(tempo.shown).toBe('60');
    tempo.set('72');
    await notices.undo();
    await saved();
    expect(kept.tempo?.perMinute).toBe(60);
    tempo.asTheSong();
    await saved();
    expect([kept.tempo, tempo.shown]).toEqual([null, '54']);
  });

  it('of a file is nobody’s until it is confirmed, by one tap', async () => {
    await open(DOTTED);
    const tempo = new UsualTempo(page);
    expect(tempo.unconfirmed).toBe(true);
    tempo.confirm();
    expect(notices.current?.words).toBe('Confirmed: 54 a minute.');
    await saved();
    expect([kept.tempo, tempo.unconfirmed, tempo.own]).toEqual([DOTTED, false, true]);
    await open(null);
    expect(new UsualTempo(page).unconfirmed).toBe(false);
  });

  it('counts the felt beat of a song that says none: here the quarter of 3/4', async () => {
    await open(null);
    const tempo = new UsualTempo(page);
    expect([tempo.shown, tempo.noteWords]).toEqual(['', 'quarter notes']);
    tempo.set('');
    expect(tempo.problem).toBeNull();
    tempo.set('92');
    tempo.asTheSong();
    expect(notices.current?.words).toBe('No tempo: the song says none.');
    await saved();
    expect(kept.tempo).toBeNull();
  });

  it.each(['9', '401', '92,5', 'slow', '-60', '1e2', ''])(
    'is not “%s”: that stays in the field with a sentence, and nothing is sent',
    async (text) => {
      await open(DOTTED);
      const tempo = new UsualTempo(page);
      tempo.set(text);
      expect(tempo.shown).toBe(text);
      expect(tempo.problem).toMatch(
        /whole number from 10 to 400\. Until then 54 a minute stays\.$/,
      );
      await saved();
      expect(sent).toEqual([]);
      tempo.set('54');
      expect([tempo.problem, tempo.shown]).toEqual([null, '54']);
      expect(sent).toEqual([]);
    },
  );

  it.each(['10', '400'])('can be %s', async (text) => {
    await open(DOTTED);
    new UsualTempo(page).set(text);
    await saved();
    expect(kept.tempo?.perMinute).toBe(Number(text));
  });
});

describe('The usual passes of a song', () => {
  let form: PassList;
  beforeEach(async () => {
    await open(null);
    form = usualPasses(page, PEOPLE);
  });

  it('are as the song has them until they are changed; a change is saved, Undo takes it back', async () => {
    expect(form.own).toBe(false);
    const first = { name: 'Verse 1', texture: 'held', lead: null, up: 0, unison: false };
    expect(form.shown[0]).toMatchObject(first);
    expect(form.shown[0]?.keys[0]).toEqual({ up: 0, words: 'in G' });
    form.setTexture(0, 'leading');
    await saved();
    expect(kept.form?.[0]).toMatchObject({ verse: 1, texture: 'leading' });
    expect(form.own).toBe(true);
    await notices.undo();
    await saved();
    expect([kept.form, form.own]).toEqual([null, false]);
  });

  it('build as a hairpin is drawn over them; drawn as they are, nothing is changed', async () => {
    const last = form.passes.length - 1;
    form.draw({ from: 0, to: last, texture: 'every beat' });
    const name = form.shown[last]?.name ?? '';
    expect(notices.current?.words).toBe(`Verse 1 to ${name}: held to every beat.`);
    await saved();
    expect(kept.form?.[0]?.texture).toBe('held');
    expect(kept.form?.at(-1)?.texture).toBe('every beat');
    const before = sent.length;
    form.draw({ from: 0, to: 0, texture: 'held' });
    await saved();
    expect(sent).toHaveLength(before);
    form.draw({ from: last, to: last, texture: 'held' });
    expect(notices.current?.words).toBe(`${name}: held.`);
  });

  it('build as proposed when that is taken, and Undo takes it back', async () => {
    expect(form.textures.every((texture) => texture === 'held')).toBe(true);
    const { proposed } = form;
    expect(proposed).toHaveLength(form.passes.length);
    form.takeProposed();
    await saved();
    expect(kept.form?.map(({ texture }) => texture)).toEqual(proposed);
    await notices.undo();
    await saved();
    expect(kept.form).toBeNull();
  });

  it('build and end as proposed in one step; how the last time ends is chosen by itself too', async () => {
    form.takeProposed();
    await saved();
    // A hymn whose verses grow ends broadly.
    expect([form.ends.now, form.isProposed]).toEqual(['broad', true]);
    expect(kept.form?.map(({ ending }) => ending ?? null)).toEqual([
      ...form.passes.slice(1).map(() => null),
      'broad',
    ]);
    form.setEnding('quiet');
    expect(notices.current?.words).toBe('The last time ends quietly.');
    await saved();
    expect([kept.form?.at(-1)?.ending, form.isProposed]).toEqual(['quiet', false]);
    await notices.undo();
    await saved();
    expect(kept.form?.at(-1)?.ending).toBe('broad');
    form.setEnding(null);
    await saved();
    expect(kept.form?.some((pass) => 'ending' in pass)).toBe(false);
  });

  it('end as they did when another pass is the last', async () => {
    form.setEnding('quiet');
    const last = form.passes.length - 1;
    for (const change of [() => form.move(last, -1), () => form.remove(last), () => form.add(0)]) {
      change();
      await saved();
      const endings = kept.form?.map(({ ending }) => ending);
      expect(endings?.filter((ending) => ending !== undefined)).toEqual(['quiet']);
      expect(endings?.at(-1)).toBe('quiet');
    }
  });

  it('say what is played in a texture, with the beats of a bar of theirs', () => {
    expect(form.say(0, 'every beat')).toBe('strike every beat, three to a bar');
    expect(form.say(99, 'every beat')).toBe('');
  });

  it('are left out, moved and added, and are as the song has them again', async () => {
    const usual = form.shown.map(({ name }) => name);
    form.remove(0);
    form.move(0, 1);
    form.add(form.sections.findIndex(({ name }) => name === 'Verse 1'));
    expect(form.shown.map(({ name }) => name)).toEqual([
      'Verse 3',
      'Verse 2',
      ...usual.slice(3),
      'Verse 1',
    ]);
    form.asUsual();
    await saved();
    expect([kept.form, form.shown.map(({ name }) => name)]).toEqual([null, usual]);
  });

  it('are led by who sings: by role, or because they were chosen for this song', async () => {
    expect(form.leads.map(({ name }) => name)).toEqual(['Ruth']);
    page.arrange({ singers: ['t'] });
    expect(form.leads.map(({ name }) => name)).toEqual(['Ruth', 'Tomas']);
    form.setLead(1, 't');
    expect(notices.current?.words).toBe('Verse 2: Tomas leads.');
    await saved();
    expect(kept.form?.[1]).toMatchObject({ verse: 2, lead: 't' });
  });
});

describe('How often the chord usually changes', () => {
  it('is a beginner’s until another is chosen, which is kept and can be taken back', async () => {
    await open(null);
    const changes = new UsualChanges(page);
    expect([changes.found, changes.density]).toEqual([true, 'bar']);
    const count = () => page.shown?.chords.length ?? 0;
    const few = count();
    changes.choose('beat');
    expect(notices.current?.words).toBe('Chords now: every change.');
    expect(count()).toBeGreaterThan(few);
    await saved();
    expect(kept.density).toBe('beat');
    changes.choose('beat');
    expect(sent).toEqual([{ density: 'beat' }]);
    await notices.undo();
    await saved();
    expect([kept.density, count()]).toEqual(['bar', few]);
  });

  it('offers every density that a server takes, each once', () => {
    const offered = new UsualChanges(page).choices.map(({ density }) => density);
    expect(offered.toSorted()).toEqual(Density.options.toSorted());
  });

  it('is no question where all chords are written', async () => {
    await open(null);
    const score = page.score;
    page.song = { ...page.song, score: { ...score, voices: score?.voices.slice(0, 1) } } as Song;
    expect(new UsualChanges(page).found).toBe(false);
  });
});
