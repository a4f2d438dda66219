import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { Abc, Keys, Parts, PlayersInKey, Rungs } from '#music';
import type { Arrangement } from '#server/contract/arrangements.ts';
import type { Member } from '#server/contract/members.ts';
import type { Song } from '#server/contract/songs.ts';
import { KeyFitState } from './key-fit.svelte.ts';
import { People } from './people.svelte.ts';
import { SongPage } from './song.svelte.ts';

const read = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
const score = read.ok ? read.value[0] : undefined;
const key = score?.keys[0]?.key;
if (!score || !key) throw new Error('the hymn is there');

const member = (id: string, more: Partial<Member>): Member => ({
  id,
  name: id,
  roles: [],
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
  ...more,
});
const joel = member('Joel', { roles: ['keys'], reach: 9 });
const ines = member('Ines', { roles: ['keys', 'lead voice'] });
const ruth = member('Ruth', { roles: ['lead voice'], comfortable: { low: 'A3', high: 'D5' } });
const elias = member('Elias', { roles: ['guitar'] });
const mara = member('Mara', { roles: ['bass'] });
const KEYS = Keys.keysToOffer('major');

let page: SongPage;
let fit: KeyFitState;
let people: People;
beforeEach(() => {
  page = new SongPage('s');
  page.song = { id: 's', version: 1, score, corrections: [] } as unknown as Song;
  page.arrangement = {
    id: 'a',
    songId: 's',
    version: 1,
    key,
    tempo: null,
    density: 'bar',
    form: null,
    lead: null,
    singers: [],
    player: null,
  };
  people = new People();
  people.list = [joel, ines, ruth];
  fit = new KeyFitState(page, people);
});

/** What a part in the key on the screen asks, weighed by itself: for the hands that the page is laid out for. */
const costFor = (members: Member[], player: string | null) => {
  const who = { ...Parts.playerFor(members, { player }), role: 'keys' } as const;
  const arrangement = { tempo: null, density: 'bar', form: null } as const;
  const steps = { ...who, rungs: Rungs.rungsFor(who.level) };
  const asked = player === null ? who : steps;
  return PlayersInKey.weigh(score, arrangement, asked, { roles: ['keys', 'lead voice'] }).cost(key);
};
const hands = async () => {
  await fit.players.weighed();
  return fit.current?.players[0] ?? null;
};

describe('Who plays', () => {
  it('is anyone at the keys, or whoever plays; nobody is put down for it unasked', async () => {
    expect(fit.atKeys.map(({ name }) => name)).toEqual(['Ines', 'Joel']);
    expect(fit.player).toBeNull();
    expect(await hands()).toEqual(costFor([], null));
  });

  it('is kept in the arrangement, and decides whose hands the keys are weighed on', async () => {
    fit.plays(joel);
    expect(page.arrangement?.player).toBe('Joel');
    expect(fit.player?.name).toBe('Joel');
    expect(await hands()).toEqual(costFor([joel], 'Joel'));
    expect(await hands()).not.toEqual(costFor([], null));
    fit.plays(null);
    expect(page.arrangement?.player).toBeNull();
    expect(await hands()).toEqual(costFor([], null));
  });

  it('stays to be seen when the one who was chosen is not at the keys any more', () => {
    fit.plays(ruth);
    expect(fit.atKeys.map(({ name }) => name)).toEqual(['Ines', 'Joel', 'Ruth']);
  });

  it('says of each key in words what the hands do', async () => {
    await fit.players.weighed();
    const words = fit.front?.rows.map(
      ({ costs }) => costs.find(({ dimension }) => dimension === 'player')?.words,
    );
    expect(words?.length).toBeGreaterThan(3);
    for (const each of words ?? [])
      expect(each).toMatch(/^whoever plays at the keys: [a-z]+ hard move/);
  });
});

describe('A verse that is raised', () => {
  const kept = () => fit.front?.rows.map((row) => row.key.tonic) ?? [];

  it('counts in the keys that stay and in the one that suits best', () => {
    page.arrangement = { ...page.arrangement, singers: ['Ruth'], lead: 'Ruth' } as Arrangement;
    fit.room = false;
    expect(kept()).toContain('G');
    const section = score.sections[0]?.id ?? '';
    const form = [
      { section, verse: 1 },
      { section, verse: 2, up: 2 },
    ];
    page.arrangement = { ...page.arrangement, form };
    // D5, the highest note that sits easily for Ruth, is the top of the tune in G: up a whole step it is E5.
    expect(kept()).not.toContain('G');
    expect(kept()).toContain('F');
    expect(kept()).toContain(fit.front?.suggestion?.key.tonic);
  });
});

describe('whose hands count', () => {
  const counting = () => fit.players.choices.filter(({ counts }) => counts).map(({ id }) => id);
  const choice = (id: string) => {
    const found = fit.players.choices.find((each) => each.id === id);
    if (!found) throw new Error(`nobody is ${id}`);
    return found;
  };

  it('are those the page is laid out for, and the only guitar and the only bass', () => {
    expect(counting()).toEqual(['anybody keys']);
    people.list = [...(people.list ?? []), elias, mara];
    expect(counting()).toEqual(['anybody keys', 'Elias guitar', 'Mara bass']);
    people.list = [...(people.list ?? []), { ...mara, id: 'Tom', name: 'Tom' }];
    expect(counting()).toEqual(['anybody keys', 'Elias guitar']);
  });

  it('are several, as the leader says, and each is weighed by their own figure', async () => {
    people.list = [...(people.list ?? []), elias, mara];
    fit.players.count(choice('Ines keys'), true);
    fit.players.count(choice('Mara bass'), false);
    expect(counting()).toEqual(['Ines keys', 'Elias guitar']);
    await fit.players.weighed();
    expect(fit.current?.players.map(({ ease }) => ease.unit)).toEqual([
      'hard moves',
      'barre changes',
    ]);
    expect(fit.handWords.join(' ')).toMatch(/Ines at the keys.*Elias on the guitar: /);
  });

  it('are weighed once: nobody is ready before, and another key or singer changes nothing', async () => {
    people.list = [...(people.list ?? []), elias];
    expect(fit.players.isReady).toBe(false);
    expect(fit.current?.players).toEqual([]);
    await fit.players.weighed();
    expect(fit.players.isReady).toBe(true);
    page.arrangement = page.arrangement && {
      ...page.arrangement,
      key: { tonic: 'F', mode: 'major' },
    };
    fit.sings(ruth, true);
    expect(fit.players.isReady).toBe(true);
    fit.players.count(choice('Elias guitar'), false);
    expect(fit.players.isReady).toBe(false);
  });

  it('may use a transpose button where the keyboard has one', async () => {
    people.list = [{ ...joel, instruments: { transposeButton: true } }];
    fit.plays(joel);
    expect(choice('Joel keys').byButton).toBe(false);
    await fit.players.weighed();
    const plain = KEYS.map((each) => fit.players.in(each)[0]);
    fit.players.useButton(choice('Joel keys'), true);
    await fit.players.weighed();
    KEYS.forEach((each, i) => {
      const [now] = fit.players.in(each);
      const offered = plain[i]?.instead;
      expect(now?.ease).toEqual((offered ?? plain[i])?.ease);
      expect(now?.plays).toEqual(offered?.plays ?? null);
    });
  });
});

describe('the home key, the usual key and the way between', () => {
  it('are said on the page of the song', () => {
    expect(fit.distance).toBe('Home key G major. Usually in it.');
    page.arrangement = page.arrangement && {
      ...page.arrangement,
      key: { tonic: 'F', mode: 'major' },
    };
    expect(fit.distance).toBe('Home key G major. Usually in F major, down a step.');
  });
});
