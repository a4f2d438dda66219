import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Congregation, KeyFit, Room } from '#music';
import type { Team } from '#server/contract/team.ts';
import { KeyFitState, type FitSong } from './key-fit.svelte.ts';
import { notices } from './notice.svelte.ts';
import { ourTeam, TeamState } from './team.svelte.ts';

const mill: Team = {
  id: 't',
  name: 'Mill Lane',
  demo: null,
  congregation: null,
  room: null,
  version: 1,
};
let stored = mill;
let sent: Partial<Team>[] = [];
/** What the next questions for the team wait for. */
let held: Promise<void> | null = null;

beforeEach(() => {
  stored = mill;
  sent = [];
  held = null;
  vi.stubGlobal('fetch', async (_: string, init: RequestInit) => {
    const found = stored;
    if (init.method === 'GET') {
      await held;
      return Response.json(found);
    }
    const change = JSON.parse(init.body as string) as Partial<Team>;
    sent.push(change);
    stored = { ...stored, ...change, version: stored.version + 1 };
    return Response.json(stored);
  });
});
afterEach(() => vi.unstubAllGlobals());

async function loaded(): Promise<TeamState> {
  const team = new TeamState();
  await team.load();
  return team;
}
const saved = (team: TeamState) => expect.poll(() => team.saver?.state).toBe('saved');

describe('How the congregation sings', () => {
  it('is the usual guideline until the team chooses, and goes back by undo', async () => {
    const team = await loaded();
    expect(team.congregation).toBe(Congregation.DEFAULT_GUIDELINE);
    team.singsAs('one-octave');
    expect(team.congregation).toBe('one-octave');
    expect(notices.current?.words).toBe('The congregation sings C4 to C5 now, a rule of thumb.');
    await notices.undo();
    expect(team.team?.congregation).toBeNull();
    expect(sent).toEqual([{ congregation: 'one-octave' }, { congregation: null }]);
  });

  it('is a range of the team’s own, in its words; the same again is nothing new', async () => {
    const team = await loaded();
    team.singsAs({ low: 'Bb3', high: 'C5' });
    expect(notices.current?.words).toBe('The congregation sings B♭3 to C5 now, as you set it.');
    team.singsAs({ low: 'Bb3', high: 'C5' });
    await saved(team);
    expect(sent).toEqual([{ congregation: { low: 'Bb3', high: 'C5' } }]);
  });

  it('is the voice that key fit counts as the room', () => {
    ourTeam.team = { ...mill, congregation: { low: 'B3', high: 'B4' } };
    const song = { score: null, key: null, arrangement: null } as unknown as FitSong;
    const fit = new KeyFitState(song, { shown: [] });
    expect(fit.singers).toEqual(KeyFit.voicesOf([], { low: 'B3', high: 'B4' }));
    ourTeam.team = { ...mill, congregation: 'one-octave' };
    expect(fit.singers[0]?.comfortable).toEqual({ low: 'C4', high: 'C5' });
    fit.room = false;
    expect(fit.singers).toEqual([]);
    ourTeam.team = null;
  });
});

describe('Who is in the room', () => {
  it('is the usual, invented room until the team sets its own, and goes back by undo', async () => {
    const team = await loaded();
    expect([team.room, team.isUsualRoom]).toEqual([Room.USUAL_ROOM, true]);
    team.fill({ women: 12, men: 9 });
    expect([team.room, team.isUsualRoom]).toEqual([{ women: 12, men: 9 }, false]);
    await saved(team);
    team.fill(null);
    expect(team.isUsualRoom).toBe(true);
    await notices.undo();
    expect(team.room).toEqual({ women: 12, men: 9 });
    expect(sent.at(-1)).toEqual({ room: { women: 12, men: 9 } });
  });

  it.each(['-3', '2.5', 'some', '10001'])('takes no %s people, and says why', async (typed) => {
    const team = await loaded();
    team.count('women', typed);
    expect(team.isUsualRoom).toBe(true);
    expect(notices.current).toMatchObject({
      words:
        'The number of women is a whole number of people from 0 to 10,000. It stays as it was.',
      undo: null,
    });
    team.count('women', ' ');
    expect(team.room).toEqual({ ...Room.USUAL_ROOM, women: 0 });
    team.count('men', '7');
    await saved(team);
    expect(sent.at(-1)).toEqual({ room: { ...Room.USUAL_ROOM, women: 0, men: 7 } });
  });

  it('stays where an answer comes that was asked for before the change', async () => {
    const team = await loaded();
    let arrive = (): void => undefined;
    held = new Promise((done) => (arrive = done));
    const late = team.load();
    team.fill({ women: 12 });
    await saved(team);
    arrive();
    await late;
    expect(team.room).toEqual({ women: 12 });
    expect(team.saver?.version).toBe(2);
  });
});
