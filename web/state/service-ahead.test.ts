import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { ServiceServer } from '#test/support/service-server.ts';
import { Known, Parts, type PlayedPart } from '#music';
import type { ShapesAhead } from '#server/contract/members.ts';
import { notices } from './notice.svelte.ts';
import { ServiceAhead } from './service-ahead.svelte.ts';
import { ServiceEase } from './service-ease.svelte.ts';
import { SongLine } from './service-line.svelte.ts';
import { ServiceRungs } from './service-rungs.svelte.ts';
import { ServicePage } from './service.svelte.ts';

describe('What somebody at the keys has not played here yet', () => {
  let page: ServicePage;
  let line: SongLine;
  let rungs: ServiceRungs;
  let ease: ServiceEase;
  let ahead: ServiceAhead;
  /** What the server found when the service was opened: it does not follow here. */
  let found: ShapesAhead['shapes'];

  beforeEach(async () => {
    vi.useFakeTimers();
    const server = new ServiceServer();
    vi.stubGlobal('fetch', (path: string, init: RequestInit) =>
      path.includes('/shapes/')
        ? Promise.resolve(Response.json({ member: 'Ines', shapes: found }))
        : server.fetch(path, init),
    );
    page = new ServicePage('x');
    await page.load();
    page.inHand = 'a';
    line = new SongLine(page);
    rungs = new ServiceRungs(page, line);
    ease = new ServiceEase(page, line);
    ahead = new ServiceAhead(page, ease);
    const first = partNow();
    const known = Known.of([first]);
    server.known = known.map((each) => ({ ...each, notes: [...each.notes], fingers: [...each.fingers] })); // prettier-ignore
    found = shapesOf([first], known);
    await ahead.fetch([ines().member]);
    await ease.fetch([ines().member]);
    settle();
  });
  afterEach(() => {
    notices.dismiss();
    vi.unstubAllGlobals();
    vi.useRealTimers();
  });

  const ines = () => {
    const [player] = rungs.players;
    if (!player) throw new Error('Ines is at the keys');
    return player;
  };
  function settle(): void {
    ease.weigh(rungs.players);
    vi.runAllTimers();
  }
  function partNow(): PlayedPart {
    const { score, key, density, form } = line;
    if (!score || !key) throw new Error('the song is there');
    const { member, usual, own } = ines();
    const built = Parts.build(score, { key, density, tempo: null, form: form.passes }, { ...member, role: 'keys', rungs: { ...usual, ...own } }, { roles: page.members.flatMap(({ roles }) => roles) }); // prettier-ignore
    if (!built.ok) throw new Error('there is a part');
    return { song: 'a', part: built.value };
  }
  const shapesOf = (parts: readonly PlayedPart[], known: Parameters<typeof Known.ahead>[1]) =>
    Known.ahead(parts, known).map((shape) => ({
      ...shape,
      notes: [...shape.notes],
      fingers: [...shape.fingers],
      songs: [...shape.songs],
    }));

  it('follows a step before it is kept, and agrees with what is said of how hard it is', () => {
    const { member } = ines();
    expect(ahead.say(member)).toBe('Ines has played all of Sunday’s four shapes here.');
    expect(ahead.newIn(member, 'a')).toEqual([]);
    expect(ease.say('Ines')).not.toContain('not played here yet');
    rungs.set(ines(), 'right', 3);
    rungs.set(ines(), 'texture', 6);
    settle();
    const now = Known.ahead([partNow()], Known.of([]));
    expect(ahead.say(member)).toMatch(
      /^Ines has (not played any|played \w+) of Sunday’s \w+ shapes here( yet)?\./,
    );
    expect(ahead.say(member)).toContain(`Sunday’s ${['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'][now.length] ?? now.length} shapes`); // prettier-ignore
    const fresh = ahead.newIn(member, 'a');
    expect(fresh.length).toBeGreaterThan(0);
    for (const chord of fresh) expect(now.map((shape) => shape.chord)).toContain(chord);
  });

  it('is not said of an advanced player, to whom no chord is news', () => {
    const player = { ...ines(), member: { ...ines().member, level: 'advanced' as const } };
    rungs.set(ines(), 'right', 4);
    ease.weigh([{ ...player, own: ines().own }]);
    vi.runAllTimers();
    expect(ahead.say(player.member)).toBe('');
    expect(ahead.newIn(player.member, 'a')).toEqual([]);
    expect(ease.say('Ines')).toMatch(/^For Ines it /);
    expect(ease.say('Ines')).not.toContain('not played here yet');
  });
});
