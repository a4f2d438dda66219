import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { ServiceServer } from '#test/support/service-server.ts';
import { notices } from './notice.svelte.ts';
import { SongLine } from './service-line.svelte.ts';
import { ServiceRungs } from './service-rungs.svelte.ts';
import { ServicePage } from './service.svelte.ts';

let server: ServiceServer;
let page: ServicePage;
beforeEach(async () => {
  server = new ServiceServer();
  vi.stubGlobal('fetch', server.fetch);
  page = new ServicePage('x');
  await page.load();
});
afterEach(() => {
  notices.dismiss();
  vi.unstubAllGlobals();
});

const saved = () => page.saver?.retry();

describe('What a player plays of the song in hand', () => {
  let rungs: ServiceRungs;
  const ines = () => {
    const [player] = rungs.players;
    if (!player) throw new Error('Ines is at the keys');
    return player;
  };
  const kept = () => server.service.items[0]?.rungs;

  beforeEach(() => {
    page.inHand = 'a';
    rungs = new ServiceRungs(page, new SongLine(page));
  });

  it('is nothing where a tune has no chords, written or to be found', async () => {
    const found = page.shelf.find('grace');
    if (!found) throw new Error('the song is there');
    const { score } = found.song;
    const voices = score.voices.filter(({ id }) => id === score.melody);
    const alone = { ...score, voices: voices.map((voice) => ({ ...voice, notes: voice.notes.map((note) => ({ ...note, pitches: note.pitches.slice(-1) })) })), chords: [] }; // prettier-ignore
    vi.stubGlobal('fetch', (path: string, init: RequestInit) =>
      /songs\/grace$/.test(path)
        ? Promise.resolve(Response.json({ id: 'grace', score: alone }))
        : server.fetch(path, init),
    );
    const other = new ServicePage('x');
    await other.load();
    other.inHand = 'a';
    const none = new ServiceRungs(other, new SongLine(other));
    expect([...none.players, ...none.bassPlayers]).toEqual([]);
    expect(rungs.players).toHaveLength(1);
  });

  it('is what their levels say until a step is chosen; it goes with the service, and Undo takes it back', async () => {
    expect(rungs.players.map(({ member }) => member.id)).toEqual(['Ines']);
    expect(ines().now).toEqual(ines().usual);
    rungs.set(ines(), 'left', 2);
    expect(notices.current?.words).toBe('Ines, left hand: the root with its octave, together.');
    expect(ines().now.left).toBe(2);
    await saved();
    expect(kept()).toEqual({ Ines: { left: 2 } });
    await notices.undo();
    await saved();
    expect(kept()).toEqual({});
  });

  it('is otherwise in one section, and as their levels say again when that is asked for', async () => {
    const section = rungs.sections[0] ?? { id: '', name: '' };
    rungs.set(ines(), 'left', 2);
    rungs.setIn(ines(), section, 'right', 2);
    expect(ines().sections).toMatchObject([{ ...section, now: { left: 2, right: 2 } }]);
    expect(ines().now.right).toBe(1);
    await saved();
    expect(kept()).toEqual({ Ines: { left: 2, sections: { [section.id]: { right: 2 } } } });
    rungs.setIn(ines(), section, 'right', null);
    expect(ines().sections).toEqual([]);
    rungs.asLevelsSay(ines());
    await saved();
    expect(kept()).toEqual({});
  });

  it('is asked of nobody who is not at the keys, and for no line but a song', () => {
    page.inHand = 'b';
    expect(rungs.players).toEqual([]);
  });

  it('helps the singers where a section is low for them, when that is taken, and not after Undo', async () => {
    expect(rungs.help).toEqual([]);
    // So low that the middle of the tune is at the lowest comfortable notes of both.
    for (const each of page.week.slice(0, 2))
      page.changePerson(each, { voice: { low: 'C5', high: 'C6' } }, 'Higher this week.');
    page.changeItem('a', { key: { tonic: 'A', mode: 'major' } }, 'In A.');
    const [help] = rungs.help;
    if (!help) throw new Error('it is low for both');
    expect(help).toMatchObject({ help: 'pulse', steps: { pulse: true } });
    expect(rungs.helps(ines(), help)).toBe(false);
    rungs.setHelp(ines(), help, true);
    expect(rungs.helps(ines(), help)).toBe(true);
    await saved();
    expect(kept()).toEqual({ Ines: { sections: { [help.section]: { pulse: true } } } });
    rungs.setHelp(ines(), help, false);
    expect(rungs.helps(ines(), help)).toBe(false);
    await notices.undo();
    expect(rungs.helps(ines(), help)).toBe(true);
  });

  it('is a step of its own for the bass, all through and in a section, beside the keys', async () => {
    expect(rungs.bassPlayers).toEqual([]);
    const [, tomas] = page.week;
    if (!tomas) throw new Error('Tomas is there');
    page.changePerson(tomas, { roles: ['bass', 'keys'] }, 'Tomas plays the bass.');
    const bass = () => {
      const [player] = rungs.bassPlayers;
      if (!player) throw new Error('Tomas plays the bass');
      return player;
    };
    expect(bass().ladders.map(([ladder]) => ladder)).toEqual(['bass']);
    expect(bass().now.bass).toBe(1);
    rungs.set(bass(), 'bass', 3);
    expect(notices.current?.words).toBe(
      'Tomas, bass: a walking line in full passes, the bass of the song in calm ones.',
    );
    const section = rungs.sections[0] ?? { id: '', name: '' };
    rungs.setIn(bass(), section, 'bass', 1);
    await saved();
    expect(kept()).toEqual({ Tomas: { bass: 3, sections: { [section.id]: { bass: 1 } } } });
    expect(bass().sections).toMatchObject([{ ...section, now: { bass: 1 } }]);
    // What he plays at the keys is another ladder.
    const keys = rungs.players.find(({ member }) => member.id === 'Tomas');
    expect(keys?.sections).toEqual([]);
    await notices.undo();
    await notices.undo();
    expect(bass().now.bass).toBe(1);
  });
});
