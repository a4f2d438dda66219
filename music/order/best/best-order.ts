import type { Key } from '../../pitch/key.ts';
import { listed } from '../../score/number-words.ts';
import { soundsLike } from '../key-ways.ts';
import { fullnessOf } from './fullness.ts';
import { joinsBetween, keysOfSong, songJoin, type KeysOfSong } from './joins.ts';
import { solve, type OrderProblem, type Placed, type Solution } from './solve.ts';
import type {
  BestOrder,
  OrderCost,
  LineToPlan,
  OrderOptions,
  SongToPlan,
  OrderTeam,
  PlanLine,
  ServicePlan,
} from './terms.ts';
import { bareOf, withPins } from './pins.ts';
import { PRICES } from './terms.ts';
import { weigh, type WeighedSong, type WeighedWay } from './weigh.ts';

export { bareOf, withPins };
export { prices, type Price } from './price-words.ts';
export { MOST_SONGS } from './solve.ts';
export { teamOf, type ServingPerson } from './week-team.ts';
export { weigh, type WeighedSong, type WeighedWay } from './weigh.ts';

/** Points come first; of plans with equal points the one that changes least of what stands now. */
const POINTS = 1000;
/** The best, and two to compare it with. */
const PLANS = 3;

/** A song of the order with its ways and its place. */
interface Seat {
  readonly song: SongToPlan;
  readonly weighed: WeighedSong;
  /** Index among all lines of the order. */
  readonly at: number;
}

/**
 * Who leads what, in which key, and, if asked, in which order: the sum of all points of `PRICES` is least, and of plans
 * with equal points the one that changes least of what stands now (keys, leads, places). Lines that are no songs and what is
 * pinned stay. Exact (`solve`); where the steps run out the gap is said.
 */
export function best(
  items: readonly LineToPlan[],
  team: OrderTeam,
  options: OrderOptions,
): BestOrder {
  return bestOf(
    items,
    items.map((item) => {
      if (!item.score) return null;
      const song = item as SongToPlan;
      return withPins(song, weigh(bareOf(song), team), team);
    }),
    team,
    options,
  );
}

/** The same from songs that are weighed already, item by item; null where an item is no song. */
export function bestOf(
  items: readonly LineToPlan[],
  weighed: readonly (WeighedSong | null)[],
  team: OrderTeam,
  options: OrderOptions,
): BestOrder {
  const seats = items.flatMap((item, at): Seat[] => {
    const own = weighed[at];
    if (!item.score || !own) return [];
    const song = item as SongToPlan;
    return [{ song, weighed: withStands(song, own, options), at }];
  });
  const asked = new Question(items, seats, team, options);
  const { best: found, bound } = solve(asked.problem, {
    best: PLANS,
    ...(options.steps === undefined ? {} : { steps: options.steps }),
  });
  const plans = found.map((solution) => asked.plan(solution));
  const [first] = plans;
  const least = Number.isFinite(bound) ? Math.floor(bound / POINTS) : 0;
  const optimal = first !== undefined && found[0]?.cost === bound;
  return {
    plans,
    proof: { optimal, bound: least, words: sayProof(first, optimal, (first?.total ?? 0) - least) },
    problems: asked.problems(first !== undefined),
  };
}

function sayProof(plan: ServicePlan | undefined, optimal: boolean, gap: number): string {
  if (!plan) return 'Nothing fits.';
  return optimal
    ? 'Proved: no other choice of keys, leads and order costs less.'
    : `The best that was found; a better one could cost at most ${gap} points less.`;
}

class Question {
  readonly problem: OrderProblem;
  readonly #items: readonly LineToPlan[];
  readonly #seats: readonly Seat[];
  readonly #leads: OrderTeam['leads'];
  readonly #options: OrderOptions;
  readonly #keysOf: readonly ((key: Key) => KeysOfSong)[];

  constructor(
    items: readonly LineToPlan[],
    seats: readonly Seat[],
    { leads }: OrderTeam,
    options: OrderOptions,
  ) {
    this.#items = items;
    this.#seats = seats;
    this.#options = options;
    // Whoever leads a pinned song without being asked otherwise counts too.
    const pinned = seats.flatMap(({ weighed }) => weighed.ways.map(({ lead }) => lead));
    const others = [...new Set(pinned)].filter(
      (id): id is string => id !== null && !leads.some((lead) => lead.id === id),
    );
    this.#leads = [...leads, ...others.map((id) => ({ id, name: id }))];
    const keyIndexes = seats.map(({ weighed }) => distinctKeys(weighed.ways));
    const fullness = seats.map(({ song }) => fullnessOf(song));
    this.#keysOf = seats.map(({ song }) => keysOfSong(song));
    const joins = joinsBetween(keyIndexes.map((keys, i) => keys.map((key) => this.#keys(i, key))));
    this.problem = {
      choices: seats.map(({ song, weighed }, i) =>
        weighed.ways.map((way) => ({
          key: keyIndexes[i]?.indexOf(way.key) ?? 0,
          lead: way.lead === null ? -1 : this.#leads.findIndex(({ id }) => id === way.lead),
          cost: POINTS * pointsOf(way.costs) + changesOf(song, way),
        })),
      ),
      keys: Math.max(1, ...keyIndexes.map((keys) => keys.length)),
      caps: this.#leads.map(({ id }) => this.#mostOf(id)),
      mayStand: (song, place) =>
        song === place || (options.order === 'free' && !this.#isHeld(song) && !this.#isHeld(place)),
      atPlace: (song, place) =>
        POINTS * shapePoints(fullness[song] ?? 0, options.shape?.[place]) +
        (song === place ? 0 : 1),
      join: (from, fromKey, to, toKey, place) => {
        const join = joins(from, fromKey, to, toKey);
        return POINTS * (this.#isApart(place) ? join.apart : join.next);
      },
    };
  }

  plan({ placed }: Solution): ServicePlan {
    const lines = placed.map((each, place) => this.#line(each, place, placed[place - 1]));
    const songs = placed.map(({ song }) => this.#seats[song]?.song.id ?? '');
    let next = 0;
    const order = this.#items.map(({ id }, at) =>
      this.#seats.some((seat) => seat.at === at) ? (songs[next++] ?? id) : id,
    );
    const total = lines.reduce((sum, { costs }) => sum + pointsOf(costs), 0);
    return { order, lines, total };
  }

  problems(isPossible: boolean): string[] {
    const relaxed = this.#seats.flatMap(({ weighed }) => weighed.relaxed ?? []);
    if (isPossible) return relaxed;
    const caps = this.#leads.filter((_, i) => (this.problem.caps[i] ?? 0) < this.#seats.length);
    const names = listed(caps.map(({ name }) => name));
    return [
      ...relaxed,
      caps.length > 0
        ? `There are more songs than ${names} may lead together in comfort: let somebody lead one more.`
        : 'There is a song that nobody can lead.',
    ];
  }

  #line({ song, choice }: Placed, place: number, before: Placed | undefined): PlanLine {
    const seat = this.#seats[song] as Seat;
    const way = this.#way(song, choice);
    const wish = this.#options.shape?.[place];
    const own: OrderCost[] = [
      ...way.costs,
      ...this.#join(way.key, song, place, before),
      ...shapeCost(fullnessOf(seat.song), wish),
    ];
    const { now } = seat.song;
    return {
      item: seat.song.id,
      key: way.key,
      lead: way.lead,
      costs: own.filter(({ points }) => points > 0).sort((a, b) => b.points - a.points),
      changed: {
        key: !soundsLike(now.key, way.key),
        lead: now.lead !== way.lead,
        place: song !== place,
      },
    };
  }

  #way(song: number, choice: number): WeighedWay {
    const way = this.#seats[song]?.weighed.ways[choice];
    if (!way) throw new RangeError(`song ${song} has no way ${choice}`);
    return way;
  }

  #join(key: Key, song: number, place: number, before: Placed | undefined): OrderCost[] {
    if (!before) return [];
    const earlier = this.#keys(before.song, this.#way(before.song, before.choice).key);
    return [songJoin(earlier, this.#keys(song, key), this.#isApart(place - 1))];
  }

  /** The keys that a song begins and ends in where it is done in this one. */
  #keys(song: number, key: Key): KeysOfSong {
    return this.#keysOf[song]?.(key) ?? { key, start: key, end: key };
  }

  #isHeld(song: number): boolean {
    return this.#seats[song]?.song.pinned?.place === true;
  }

  /** Whether something else stands between the song at a place and the next one. */
  #isApart(place: number): boolean {
    const [here, next] = [this.#seats[place], this.#seats[place + 1]];
    return here !== undefined && next !== undefined && next.at - here.at > 1;
  }

  #mostOf(lead: string): number {
    const { most } = this.#options;
    const own = typeof most === 'number' ? most : most?.[lead];
    return Math.min(own ?? this.#seats.length, this.#seats.length);
  }
}

function withStands(
  song: SongToPlan,
  weighed: WeighedSong,
  { onStands }: OrderOptions,
): WeighedSong {
  if (!onStands) return weighed;
  const ways = weighed.ways.map((way) => ({
    ...way,
    costs: [...way.costs, ...onStands(song, way).filter(({ points }) => points > 0)],
  }));
  return { ...weighed, ways };
}

const pointsOf = (costs: readonly OrderCost[]): number =>
  costs.reduce((sum, { points }) => sum + points, 0);

const distinctKeys = (ways: readonly WeighedWay[]) => [...new Set(ways.map(({ key }) => key))];

const changesOf = ({ now }: SongToPlan, { key, lead }: WeighedWay): number =>
  (soundsLike(now.key, key) ? 0 : 1) + (now.lead === lead ? 0 : 1);

function shapePoints(fullness: number, wish: number | undefined): number {
  return wish === undefined ? 0 : Math.round(PRICES.shape * Math.abs(fullness - wish));
}

function shapeCost(fullness: number, wish: number | undefined): OrderCost[] {
  const points = shapePoints(fullness, wish);
  if (points === 0 || wish === undefined) return [];
  const words =
    fullness > wish ? 'fuller than the shape has it here' : 'quieter than the shape has it here';
  return [{ kind: 'shape', words, points }];
}
