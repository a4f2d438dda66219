import { keysOfSong, songJoin } from '../best/joins.ts';
import { soundsLike } from '../key-ways.ts';
import { weigh, type WeighedSong } from '../best/weigh.ts';
import type { OrderCost, OrderTeam } from '../best/terms.ts';
import { isUntouched, peopleAfter, teamAfter } from './after.ts';
import { leastPath, type LazyWay } from './least-path.ts';
import { changeOf, paired, pointsAtLeast, pointsOf, type PagePair } from './page-changes.ts';
import { pagesOf, tonicAfter, weekOf, withWayOn, type Way, type Week } from './pages.ts';
import { PartShelf } from './part-shelf.ts';
import { orderChanges, withWords } from './said-otherwise.ts';
import {
  STAND_PRICES,
  type LinePages,
  type Mishaps,
  type PageChange,
  type StandPerson,
  type StandPlan,
  type StandPlanLine,
  type StandService,
  type StandSong,
} from './terms.ts';
import { sayWaysGone, waysOn, type WaysOn } from './ways-on.ts';

/** Changes on the stands come first; of plans that change as much the one that voices and hands pay least for. */
const CHANGE = 1_000_000;

/** What was worked out before; it may be kept from question to question. */
export interface StandMemory {
  readonly parts: PartShelf;
}

export const newMemory = (): StandMemory => ({ parts: new PartShelf() });

/** One way of one song with everybody's pages. */
interface WeighedPages {
  readonly way: Way;
  readonly costs: readonly OrderCost[];
  readonly people: readonly { readonly person: StandPerson; readonly pairs: readonly PagePair[] }[];
  readonly tonics: Readonly<Record<string, string>>;
  readonly leadPoints: number;
}

/**
 * Keys and leads of a service in which somebody is missing, or sings less, so that as little as possible changes of what
 * everybody has on their stands. A song stays as it is where whoever leads it does. Otherwise of all keys and leads in
 * which the lead is comfortable the ones with the fewest points of `STAND_PRICES`, to the bar; where some change as much,
 * those that cost voices, hands and joins least. The order of the songs is kept. Exact (`leastPath`), but for bars that lead
 * on to the next song: there counts the way on that stands now, as another key of the next song would make the pages of
 * this one hang on its choice. What is told of the plan (`pagesOf`) has the way on between its own keys.
 */
export class LeastChange {
  readonly plan: StandPlan;
  readonly service: StandService;
  readonly people: readonly StandPerson[];
  readonly #mishaps: Mishaps;
  readonly #parts: PartShelf;
  readonly #team: OrderTeam;
  readonly #before: Week;
  readonly #after: Week;
  /** Ways on between the keys as they stand, and between those of the plan. */
  readonly #waysBefore: WaysOn;
  #waysAfter: WaysOn = new Map();
  #chosen: readonly { readonly song: StandSong; readonly pages: WeighedPages }[] = [];

  /** @param memory what was worked out before; it may be kept from question to question */
  constructor(service: StandService, mishaps: Mishaps, { parts }: StandMemory = newMemory()) {
    this.service = service;
    this.#mishaps = mishaps;
    this.#parts = parts;
    this.people = peopleAfter(service.people, mishaps);
    this.#team = teamAfter(service, this.people, mishaps);
    this.#before = weekOf(service.people);
    this.#after = weekOf(this.people);
    this.#waysBefore = waysOn(service, ({ now }) => now.key);
    this.plan = this.#choose();
  }

  /** What becomes of everybody’s pages of one song of the plan, to the bar: the parts are written for it. */
  pagesOf(item: string): LinePages | null {
    const found = this.#chosen.find(({ song }) => song.id === item);
    if (!found) return null;
    const { song, pages } = found;
    const all = pages.people.flatMap(({ person, pairs }) =>
      pairs.map((pair): readonly [PageChange, number] => {
        const { before, after } = pair;
        const told = { before, after: withWayOn(after, this.#waysAfter.get(song.id)) };
        const points = pointsOf(pair, changeOf(song, person, pair, this.#parts));
        const change = changeOf(song, person, told, this.#parts);
        return [withWords(song, person, told, change), points];
      }),
    );
    const points = all.reduce((sum, [, each]) => sum + each, pages.leadPoints);
    const ways = [this.#waysBefore.get(item), this.#waysAfter.get(item)] as const;
    const order = orderChanges(song, this.#line(song, pages), this.people, ways);
    return { item, pages: [...all.map(([change]) => change), ...order], points };
  }

  #choose(): StandPlan {
    const songs = this.service.lines.flatMap((line, at) =>
      line.score ? [{ song: line as StandSong, at }] : [],
    );
    const weighed = songs.map(({ song }) => this.#weighed(song));
    const ways = songs.map(({ song }, i) =>
      (weighed[i]?.ways ?? []).map(({ key, lead, costs }) =>
        this.#lazy(song, { key, lead }, costs),
      ),
    );
    const isApart = (place: number) => (songs[place + 1]?.at ?? 0) - (songs[place]?.at ?? 0) > 1;
    const keysOf = songs.map(({ song }) => keysOfSong(song));
    const chosen = leastPath(ways, (place, from, to) => {
      const [here, next] = [keysOf[place]?.(from.way.key), keysOf[place + 1]?.(to.way.key)];
      return here && next ? songJoin(here, next, isApart(place)).points : 0;
    });
    this.#chosen = (chosen ?? []).flatMap((choice, place) => {
      const pages = ways[place]?.[choice]?.way;
      const song = songs[place]?.song;
      return pages && song ? [{ song, pages }] : [];
    });
    const keys = new Map(this.#chosen.map(({ song, pages }) => [song.id, pages.way.key]));
    const keyOf = ({ id, now }: StandSong) => keys.get(id) ?? now.key;
    this.#waysAfter = waysOn(this.service, keyOf);
    const waysGone = sayWaysGone(this.service, [this.#waysBefore, this.#waysAfter], keyOf);
    const leaderless = this.#chosen.flatMap(({ song, pages }) =>
      pages.way.lead === null && song.now.lead !== null
        ? [`Nobody is left who could lead “${song.title}”.`]
        : [],
    );
    return {
      lines: this.#chosen.map(({ song, pages }) => this.#line(song, pages)),
      people: this.people,
      problems: [...weighed.flatMap(({ relaxed }) => relaxed ?? []), ...leaderless, ...waysGone],
    };
  }

  /** The ways of a song, the one it stands in first; that one alone where nothing touches it. */
  #weighed(song: StandSong): WeighedSong {
    const { now } = song;
    if (isUntouched(song, this.people, this.#mishaps))
      return { ways: [{ ...now, costs: [] }], relaxed: null };
    const found = weigh(song, this.#team);
    const nearness = ({ key, lead }: Way) =>
      (soundsLike(key, now.key) ? 0 : 2) + (lead === now.lead ? 0 : 1);
    return { ...found, ways: found.ways.toSorted((a, b) => nearness(a) - nearness(b)) };
  }

  #lazy(song: StandSong, way: Way, costs: readonly OrderCost[]): LazyWay<WeighedPages> {
    const pages = this.#pages(song, way, costs);
    const own = costs.reduce((sum, { points }) => sum + points, 0);
    const all = pages.people.flatMap(({ person, pairs }) =>
      pairs.map((pair) => ({ person, pair })),
    );
    const known = pages.leadPoints;
    let atLeast: number | null = null;
    const bound = () =>
      all.reduce((sum, { pair }) => sum + pointsAtLeast(song, pair, this.#parts), known);
    return {
      way: pages,
      // Pages are counted only where there is a choice.
      get atLeast() {
        return (atLeast ??= CHANGE * bound() + own);
      },
      cost: () =>
        own +
        CHANGE *
          all.reduce((sum, { person, pair }) => {
            const change = changeOf(song, person, pair, this.#parts);
            return sum + pointsOf(pair, change);
          }, known),
    };
  }

  #pages(song: StandSong, way: Way, costs: readonly OrderCost[]): WeighedPages {
    const tonics: Record<string, string> = {};
    const people = this.people.flatMap((person) => {
      const was = this.service.people.find(({ id }) => id === person.id);
      if (!was) return [];
      const onward = this.#waysBefore.get(song.id);
      const stored = song.playedIn[person.id];
      const before = pagesOf(song, was, this.#before, song.now, stored, onward);
      const tonic = tonicAfter(song, person, before, way.key);
      if (tonic !== undefined) tonics[person.id] = tonic;
      const after = pagesOf(song, person, this.#after, way, tonic, onward);
      return [{ person, pairs: paired(before, after) }];
    });
    const isNew = way.lead !== song.now.lead && way.lead !== song.usualLead;
    return { way, costs, people, tonics, leadPoints: isNew ? STAND_PRICES.newLead : 0 };
  }

  #line(song: StandSong, { way, costs, tonics }: WeighedPages): StandPlanLine {
    const gone = Object.entries(song.playedIn).filter(
      ([id]) => !this.people.some((each) => each.id === id),
    );
    return {
      item: song.id,
      key: way.key,
      lead: way.lead,
      playedIn: { ...Object.fromEntries(gone), ...tonics },
      changed: { key: !soundsLike(song.now.key, way.key), lead: song.now.lead !== way.lead },
      costs,
    };
  }
}
