import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { Abc, Parts } from '#music';
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
const ruth = member('Ruth', { roles: ['lead voice'] });

let page: SongPage;
let fit: KeyFitState;
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
  const people = new People();
  people.list = [joel, ines, ruth];
  fit = new KeyFitState(page, people);
});

/** What the page of the server is laid out for: by the same choice. */
const costFor = (members: Member[], player: string | null) => {
  const who = Parts.playerFor(members, { player });
  const cost = Parts.handCosts(score, { tempo: null, density: 'bar' }, who)(key);
  return cost.ok ? cost : null;
};
const hands = () => fit.current?.hands ?? null;

describe('Who plays', () => {
  it('is anyone at the keys, or whoever plays; nobody is put down for it unasked', () => {
    expect(fit.players.map(({ name }) => name)).toEqual(['Ines', 'Joel']);
    expect(fit.player).toBeNull();
    expect(hands()).toEqual(costFor([], null));
  });

  it('is kept in the arrangement, and decides whose hands the keys are weighed on', () => {
    fit.plays(joel);
    expect(page.arrangement?.player).toBe('Joel');
    expect(fit.player?.name).toBe('Joel');
    expect(hands()).toEqual(costFor([joel], 'Joel'));
    expect(hands()).not.toEqual(costFor([], null));
    fit.plays(null);
    expect(page.arrangement?.player).toBeNull();
    expect(hands()).toEqual(costFor([], null));
  });

  it('stays to be seen when the one who was chosen is not at the keys any more', () => {
    fit.plays(ruth);
    expect(fit.players.map(({ name }) => name)).toEqual(['Ines', 'Joel', 'Ruth']);
  });

  it('says of each key in words what the hands do', () => {
    const words = fit.front?.rows.map(
      ({ costs }) => costs.find(({ dimension }) => dimension === 'hands')?.words,
    );
    expect(words?.length).toBeGreaterThan(3);
    for (const each of words ?? []) expect(each).toMatch(/^hands: [a-z]+ shapes, hardest change /);
  });
});
