import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { BarsChanged, Parts, type Role } from '#music';
import { ServiceServer } from '#test/support/service-server.ts';
import { notices } from './notice.svelte.ts';
import { ServiceChanges } from './service-changes.svelte.ts';
import { ServicePage } from './service.svelte.ts';

describe('What a bass that comes or goes changes at the keys', () => {
  let page: ServicePage;
  let changes: ServiceChanges;
  /** The lines at the foot, as often as the page would ask. */
  function said() {
    changes.follow();
    vi.runAllTimers();
    return changes.said;
  }
  const week = (name: string) => {
    const each = page.week.find(({ person }) => person.member === name);
    if (!each) throw new Error(`${name} serves`);
    return each;
  };
  const does = (name: string, ...roles: Role[]) =>
    page.changePerson(week(name), { roles }, 'Said.');

  beforeEach(async () => {
    vi.useFakeTimers();
    const server = new ServiceServer();
    const { items } = server.service;
    server.service = {
      ...server.service,
      // The usual key, F, lies so that nothing changes.
      items: items.map((item) =>
        item.song ? { ...item, key: { tonic: 'A', mode: 'major' } } : item,
      ),
      people: server.service.people.map((person) =>
        person.member === 'Tomas' ? { ...person, roles: ['bass'] } : person,
      ),
    };
    vi.stubGlobal('fetch', server.fetch);
    page = new ServicePage('x');
    await page.load();
    changes = new ServiceChanges(page);
  });
  afterEach(() => {
    notices.dismiss();
    vi.unstubAllGlobals();
    vi.useRealTimers();
  });

  /** As it is found where parts are built: with a bass, then without. */
  function expected(): string {
    const shelved = page.shelf.find('grace');
    const ines = week('Ines').member;
    if (!shelved || !ines) throw new Error('the song and Ines are there');
    const { tempo, density } = shelved.arrangement;
    const arrangement = { key: { tonic: 'A', mode: 'major' }, tempo, density, form: null } as const;
    const [before, after] = [['bass'], []].map((more) => {
      const roles = ['lead voice', 'keys', ...more] as Role[];
      const built = Parts.build(shelved.song.score, arrangement, { ...ines, role: 'keys' }, { roles }); // prettier-ignore
      if (!built.ok) throw new Error('there is a part');
      return built.value;
    });
    if (!before || !after) throw new Error('two parts');
    return BarsChanged.sayBarsChanged('Ines', after, BarsChanged.barsChanged(before, after));
  }

  it('is not said before anybody comes or goes', () => {
    expect(said()).toBeNull();
    does('Ruth');
    expect(said(), 'a voice changes nothing at the keys').toBeNull();
  });

  it('is said song by song with its bars, until it is taken back', () => {
    said();
    page.takeOutPerson(week('Tomas'));
    changes.follow();
    expect(changes.said, 'not before the hand is still').toBeNull();
    expect(said()?.head).toBe('Without a bass, at the keys:');
    expect(changes.said?.songs).toEqual([`Amazing Grace: ${expected()}.`]);
    expect(expected()).toMatch(/^Ines’s left hand, .*bars? \d/);
    page.undo();
    expect(said()).toBeNull();
  });

  it('is said of drums, also where nothing changes', () => {
    said();
    does('Ruth', 'lead voice', 'drums');
    expect(said()).toEqual({
      head: 'With drums, at the keys:',
      songs: ['Amazing Grace: nothing changes.'],
    });
    does('Tomas', 'harmony voice');
    expect(said()?.head).toBe('Without a bass and with drums, at the keys:');
  });

  it('is said of nobody who was not at the keys before', () => {
    does('Ines');
    said();
    does('Ines', 'keys');
    page.takeOutPerson(week('Tomas'));
    expect(said()).toBeNull();
  });
});
