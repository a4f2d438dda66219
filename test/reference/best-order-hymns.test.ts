import { describe, expect, it } from 'vitest';
import {
  Congregation,
  ORDER_PRICES,
  Pitches,
  ServiceOrder,
  type Key,
  type OrderTeam,
  type SongToPlan,
} from '#music';
import { hymn } from '#test/support/hymn.ts';

/** Three hymns of the Open Hymnal Project and a team of our own invention. */
const HYMNS = [
  'Amazing_Grace-New_Britain.abc',
  'Now_Thank_We_All_Our_God-Nun_Danket.abc',
  'O_For_A_Thousand_Tongues-Azmon.abc',
];
const SINGERS = [
  ['Ada', 'A3', 'D5'],
  ['Bo', 'C3', 'E4'],
  ['Cleo', 'F3', 'B4'],
].map(([name = '', low = '', high = '']) => ({
  id: name.toLowerCase(),
  name,
  comfortable: { low, high },
  limit: null,
}));
const TEAM: OrderTeam = {
  singers: SINGERS,
  leads: SINGERS.map(({ id, name }) => ({ id, name })),
  congregation: Congregation.voice(Congregation.DEFAULT_GUIDELINE),
  player: { name: 'Ines', reach: 12 },
};

function songOf(file: string, at: number, pinned: SongToPlan['pinned'] = {}): SongToPlan {
  const score = hymn(file);
  const key = score.keys[0]?.key as Key;
  return {
    id: `line-${at}`,
    title: file,
    score,
    arrangement: { tempo: null, density: 'bar', form: null },
    usual: key,
    now: { key, lead: 'ada' },
    pinned,
  };
}

const SONGS = HYMNS.map((file, at) => songOf(file, at));
const WEIGHED = SONGS.map((song) => ServiceOrder.weigh(ServiceOrder.bareOf(song), TEAM));
const best = (songs: readonly SongToPlan[], options: Parameters<typeof ServiceOrder.bestOf>[3]) =>
  ServiceOrder.bestOf(
    songs,
    songs.map((song, i) => ServiceOrder.withPins(song, WEIGHED[i] as (typeof WEIGHED)[0], TEAM)),
    TEAM,
    options,
  );

const MAJOR = [0, 2, 4, 5, 7, 9, 11];

/** The seven triads of a major scale, stacked in thirds, as sets of pitch classes; no code of the program's. */
function triadsOf({ tonic }: Key): Set<string> {
  const root = Pitches.midiOf(`${tonic}4`) % 12;
  const scale = MAJOR.map((step) => (root + step) % 12);
  const triads = scale.map((_, i) => [0, 2, 4].map((third) => scale[(i + third) % 7] ?? 0));
  return new Set(triads.map((triad) => triad.sort((a, b) => a - b).join(' ')));
}

function joinPoints(from: Key, to: Key): number {
  const [ours, theirs] = [triadsOf(from), triadsOf(to)];
  const shared = [...ours].filter((triad) => theirs.has(triad)).length;
  if (shared === 7) return 0;
  if (shared >= 4) return ORDER_PRICES.joinNear;
  return shared > 0 ? ORDER_PRICES.joinSome : ORDER_PRICES.joinNone;
}

const ORDERS = [
  [0, 1, 2],
  [0, 2, 1],
  [1, 0, 2],
  [1, 2, 0],
  [2, 0, 1],
  [2, 1, 0],
] as const;

/** Every order, every key and every lead of three songs, one after another. */
function leastOfAll(isAllowed: (leads: readonly (string | null)[]) => boolean): number {
  const ways = WEIGHED.map((song) =>
    song.ways.map(({ key, lead, costs }) => ({
      key,
      lead,
      points: costs.reduce((sum, each) => sum + each.points, 0),
    })),
  );
  const names = [...new Set(ways.flat().map(({ key }) => key.tonic))];
  const joins = new Map(
    names.flatMap((one) =>
      names.map((other): [string, number] => [
        `${one} ${other}`,
        joinPoints({ tonic: one, mode: 'major' }, { tonic: other, mode: 'major' }),
      ]),
    ),
  );
  const join = (from: Key, to: Key): number => joins.get(`${from.tonic} ${to.tonic}`) ?? NaN;
  let least = Infinity;
  for (const order of ORDERS)
    for (const a of ways[order[0]] ?? [])
      for (const b of ways[order[1]] ?? [])
        for (const c of ways[order[2]] ?? []) {
          if (!isAllowed([a.lead, b.lead, c.lead])) continue;
          const total = a.points + b.points + c.points + join(a.key, b.key) + join(b.key, c.key);
          if (total < least) least = total;
        }
  return least;
}

const times = (leads: readonly (string | null)[], id: string): number =>
  leads.filter((lead) => lead === id).length;

describe('The best order of real hymns', () => {
  it('costs what an enumeration of all orders, keys and leads finds, proved', () => {
    const { plans, proof } = best(SONGS, { order: 'free' });
    expect(plans[0]?.total).toBe(leastOfAll(() => true));
    expect(proof).toMatchObject({ optimal: true, bound: plans[0]?.total });
  });

  it('does so with caps on the leads, and keeps them', () => {
    const { plans } = best(SONGS, { order: 'free', most: 1 });
    const leads = plans[0]?.lines.map(({ lead }) => lead) ?? [];
    expect(new Set(leads).size).toBe(3);
    const once = (all: readonly (string | null)[]) =>
      SINGERS.every(({ id }) => times(all, id) <= 1);
    expect(plans[0]?.total).toBe(leastOfAll(once));
  });

  it('is the sum of its lines, each line that of its costs; the next plans cost no less', () => {
    const { plans } = best(SONGS, { order: 'free', shape: [0, 3, 5] });
    expect(plans).toHaveLength(3);
    for (const { lines, total } of plans) {
      const points = lines.flatMap(({ costs }) => costs.map((cost) => cost.points));
      expect(points.reduce((sum, each) => sum + each, 0)).toBe(total);
      expect(points.every((each) => each > 0)).toBe(true);
    }
    const totals = plans.map(({ total }) => total);
    expect(totals).toEqual([...totals].sort((a, b) => a - b));
  });

  it('keeps what is pinned: a place, a key, a lead', () => {
    const pins = [{ place: true }, { key: true }, { lead: true }];
    const pinned = HYMNS.map((file, at) => songOf(file, at, pins[at]));
    const { plans } = best(pinned, { order: 'free', most: { cleo: 3 } });
    for (const { order, lines } of plans) {
      expect(order[0]).toBe('line-0');
      const of = (id: string) => lines.find(({ item }) => item === id);
      expect(of('line-1')?.key).toEqual(pinned[1]?.now.key);
      expect(of('line-2')?.lead).toBe('ada');
    }
  });

  it('costs the same once all that it chose is pinned', () => {
    const { plans } = best(SONGS, { order: 'kept' });
    const [plan] = plans;
    const pinned = SONGS.map((song, i) => {
      const line = plan?.lines[i];
      if (!line) throw new Error('a plan has all songs');
      return {
        ...song,
        now: { key: line.key, lead: line.lead },
        pinned: { key: true, lead: true },
      };
    });
    expect(best(pinned, { order: 'kept' }).plans[0]).toMatchObject({ total: plan?.total });
  });
});
