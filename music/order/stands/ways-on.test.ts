import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import type { Arrangement, Player } from '../../parts/arrangement.ts';
import { isLink } from '../../parts/link/link.ts';
import type { Part, Role } from '../../parts/part.ts';
import { build } from '../../parts/parts.ts';
import { rungsFor } from '../../parts/rungs.ts';
import type { Key } from '../../pitch/key.ts';
import type { Score } from '../../score/score.ts';
import type { WayKind } from '../../score/ways/transition.ts';
import { withOnward } from '../onward.ts';
import { LeastChange } from './least-change.ts';
import type { StandPerson, StandService, StandSong } from './terms.ts';

const person = (id: string, roles: Role[], more: Partial<StandPerson> = {}): StandPerson => ({ id, name: id, roles, level: 'beginner', levels: {}, instruments: {}, reach: 12, comfortable: null, limit: null, ...more }); // prettier-ignore
const PEOPLE = [
  person('Joel', ['keys']),
  person('Marit', ['keys'], { instruments: { transposeButton: true } }),
  person('Dora', ['bass']),
  person('Ada', ['lead voice'], { comfortable: { low: 'A3', high: 'C5' } }),
  person('Ruben', ['leader']),
];
const SONGS = [
  'Amazing_Grace-New_Britain',
  'Abide_With_Me-Eventide',
  'Now_Thank_We_All_Our_God-Nun_Danket',
].map((name) => hymn(`${name}.abc`));
const major = (tonic: string): Key => ({ tonic, mode: 'major' });
const KEYS = ['F', 'F', 'F'].map(major);
/** Ruben leads the songs around the one of Ada’s. */
const LEADS = ['Ruben', 'Ada', 'Ruben'];

const serviceWith = (ways: readonly (WayKind | null)[]): StandService => ({
  people: PEOPLE,
  congregation: null,
  lines: SONGS.map((score, i): StandSong => {
    const key = KEYS[i] ?? major('F');
    const lead = LEADS[i] ?? null;
    const arrangement = { tempo: null, density: 'bar', form: null } as const;
    return { id: `${i}`, title: `song ${i}`, score, arrangement, usual: key, now: { key, lead }, named: lead, usualLead: null, playedIn: {}, rungs: {}, wayOn: ways[i] ?? null }; // prettier-ignore
  }),
});
/** Ada sings low this morning, and nobody else could lead: her song goes down. */
const LOW = { Ada: { kind: 'voice', range: { low: 'G3', high: 'F4' } } } as const;

/** The parts of an order as they are built where they are opened: from the whole order with its ways on. */
function partsIn(
  keys: readonly Key[],
  ways: readonly (WayKind | null)[],
  own: StandPerson,
): (Part | null)[] {
  const items = SONGS.map((score, i) => ({
    kind: 'song' as const,
    title: `song ${i}`,
    wayOn: ways[i] ?? null,
    song: { score, arrangement: arrangementIn(keys[i] ?? major('F')) },
  }));
  const role = own.roles[0] ?? 'keys';
  const player: Player = { id: own.id, name: own.id, role, level: own.level, reach: 12, rungs: rungsFor(own.level, {}) }; // prettier-ignore
  const roles: Role[] = ['keys', 'bass', 'lead voice'];
  return withOnward(items).map(({ song }) => {
    const built = build(song.score, song.arrangement, player, { roles });
    return built.ok ? built.value : null;
  });
}
const arrangementIn = (key: Key): Arrangement => ({ key, tempo: null, density: 'bar', form: null });

/** What a player has in each bar, those of the song and those that lead on apart; ties are left as they are written. */
function barsOf({ score, printed }: Part): { own: string[]; on: string[] } {
  const from = score.sections.find(isLink)?.from ?? Infinity;
  const hands = score.voices.filter(
    ({ id }) => id !== score.melody && (printed === undefined || printed.includes(id)),
  );
  const said = (bars: Score['bars']) =>
    bars.map(({ at, length }) => {
      const inBar = hands.map(({ notes }) =>
        notes
          .filter((note) => note.at >= at && note.at < at + length && note.pitches.length > 0)
          .map((note) => [note.at - at, note.length, note.pitches]),
      );
      return JSON.stringify([length, inBar]);
    });
  return {
    own: said(score.bars.filter(({ at }) => at < from)),
    on: said(score.bars.filter(({ at }) => at >= from)),
  };
}

function differing(was: Part, now: Part): number {
  const [a, b] = [barsOf(was), barsOf(now)];
  const count = (x: string[], y: string[]) =>
    Array.from({ length: Math.max(x.length, y.length) }).filter((_, i) => x[i] !== y[i]).length;
  return count(a.own, b.own) + count(a.on, b.on);
}

describe('What is told of the bars that lead on to the next song', () => {
  it.each([
    ['dominant', 'straight on'],
    ['common chord', 'dominant'],
    ['held bass', 'loop'],
    ['loop', 'common chord'],
  ] as const)('is what differs in the parts themselves: %s, %s', (first, second) => {
    const ways = [first, second, null];
    const change = new LeastChange(serviceWith(ways), LOW);
    const keys = change.plan.lines.map(({ key }) => key);
    expect(keys[0]).toEqual(major('F'));
    let [told, moved] = [0, 0];
    for (const own of PEOPLE.filter(({ roles: [role] }) => role === 'keys' || role === 'bass')) {
      const [before, after] = [partsIn(KEYS, ways, own), partsIn(keys, ways, own)];
      for (const [i, line] of change.plan.lines.entries()) {
        const page = change.pagesOf(line.item)?.pages.find(({ member }) => member === own.id);
        const [was, now] = [before[i], after[i]];
        if (!page || !was || !now) throw new Error('there is a page');
        moved += Number(line.changed.key);
        if (line.changed.key) continue;
        const bars = differing(was, now);
        expect(page.bars, `${own.id}, song ${i}`).toBe(bars);
        expect(page.kind).toBe(bars > 0 ? 'bars' : 'same');
        if (bars === 0) continue;
        told += bars;
        expect(page.words).toMatch(/on to “song \d”|on to the next song/);
      }
    }
    expect(moved, 'a song is in another key').toBeGreaterThan(0);
    expect(told).toBeGreaterThan(0);
  });

  it('says where a way is there no more between the new keys', () => {
    const change = new LeastChange(serviceWith(['straight on', null, null]), LOW);
    expect(change.plan.lines[1]?.changed.key).toBe(true);
    expect(change.plan.problems.join()).toMatch(/^After “song 0”: .*not straight on any more/);
  });
});
