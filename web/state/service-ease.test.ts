import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { ServiceServer } from '#test/support/service-server.ts';
import { Known, Parts, PartDifficulty } from '#music';
import { notices } from './notice.svelte.ts';
import { ServiceEase } from './service-ease.svelte.ts';
import { SongLine } from './service-line.svelte.ts';
import { ServiceRungs } from './service-rungs.svelte.ts';
import { ServicePage } from './service.svelte.ts';

describe('How hard a song is for somebody at the keys', () => {
  let server: ServiceServer;
  let page: ServicePage;
  let line: SongLine;
  let rungs: ServiceRungs;
  beforeEach(async () => {
    vi.useFakeTimers();
    server = new ServiceServer();
    vi.stubGlobal('fetch', server.fetch);
    page = new ServicePage('x');
    await page.load();
    page.inHand = 'a';
    line = new SongLine(page);
    rungs = new ServiceRungs(page, line);
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
  async function said(): Promise<string> {
    const ease = new ServiceEase(page, line);
    await ease.fetch([ines().member]);
    ease.weigh(rungs.players);
    expect(ease.say('Ines'), 'not before the hand is still').toBe('');
    vi.runAllTimers();
    return ease.say('Ines');
  }
  /** As it is built where parts are built. */
  function partOf() {
    const { score, key, density, form } = line;
    if (!score || !key) throw new Error('the song is there');
    const { member, usual, own } = ines();
    const built = Parts.build(score, { key, density, tempo: null, form: form.passes }, { ...member, role: 'keys', rungs: { ...usual, ...own } }, { roles: page.members.flatMap(({ roles }) => roles) }); // prettier-ignore
    if (!built.ok) throw new Error('there is a part');
    return built.value;
  }

  it('is said with its dearest places, and follows the steps', async () => {
    const first = await said();
    expect(first).toBe(PartDifficulty.say(PartDifficulty.of(partOf(), []), 'Ines'));
    expect(first).toMatch(/^For Ines it is easy; what asks most: bar \d+, from .* in one beat\.$/);
    rungs.set(ines(), 'right', 4);
    rungs.set(ines(), 'left', 4);
    rungs.set(ines(), 'texture', 6);
    const full = await said();
    expect(full).toMatch(/^For Ines it (takes practice|is hard): [^;]+; [^;]+; [^;]+\.$/);
  });

  it('counts what they have met', async () => {
    rungs.set(ines(), 'right', 3);
    expect(await said()).toContain('not played here yet');
    server.known = Known.of([{ song: 'grace', part: partOf() }]).map((shape) => ({
      ...shape,
      notes: [...shape.notes],
      fingers: [...shape.fingers],
    }));
    expect(await said()).not.toContain('not played here yet');
  });

  it('is said of nobody before it is known what they have met', () => {
    const ease = new ServiceEase(page, line);
    ease.weigh(rungs.players);
    vi.runAllTimers();
    expect(ease.say('Ines')).toBe('');
  });
});
