import { Congregation, ServiceOrder, type LineToPlan } from '#music';
import type { BestOrderAnswer, BestOrderQuestionRead } from '../contract/best-order.ts';
import { PlanningError, type Planner, type PlanRequest } from '../planning/planner.ts';
import type { StoredMember } from '../store/members.store.ts';
import type { StoredService } from '../store/services.store.ts';
import type { TeamStore } from '../store/store.ts';
import { arrangementOf, findSongbook, leadIn, type Songbook } from './find-plan.ts';
import { noSuchService } from './find-services.ts';
import { requireTeam } from './find-team.ts';
import { invalidInput } from './invalid-input.ts';
import { Refusal } from './refusal.ts';

export type { Planner };

/** Who serves, with this week’s roles and voice. */
type Serving = StoredMember;

/**
 * Who leads what, in which key and, if asked, in which order, weighed on this week's voices and hands. It saves nothing.
 * @throws Refusal for what is not there, too many songs, and where too many others are asking
 */
export async function findBestOrder(
  store: TeamStore,
  planner: Planner,
  id: string,
  question: BestOrderQuestionRead,
): Promise<BestOrderAnswer> {
  const { service, book, congregation } = await store.together(async (rooms) => {
    const found = await rooms.services.find(id);
    if (!found) throw noSuchService();
    const { congregation } = await requireTeam(rooms);
    return { service: found, book: await findSongbook(rooms, [found]), congregation };
  });
  const serving = servingIn(service, book);
  check(question, service, serving);
  const items = linesOf(service, book, question);
  const songs = items.filter(({ score }) => score !== null).length;
  if (songs > ServiceOrder.MOST_SONGS)
    throw new Refusal(
      'not-possible',
      `${songs} songs are too many to weigh together; ${ServiceOrder.MOST_SONGS} are possible.`,
    );
  const team = ServiceOrder.teamOf(serving, items, Congregation.voice(congregation ?? undefined));
  const { order, most, shape } = question;
  const options = { order, shape, ...(most === null ? {} : { most }) };
  const answer = await orBusy(planner, { items, team, options });
  return {
    ...answer,
    plans: [...answer.plans],
    problems: [...answer.problems],
    service: id,
    serviceVersion: service.version,
    player: team.player?.name ?? null,
    prices: ServiceOrder.prices().map((price) => ({ ...price })),
  };
}

function servingIn({ people }: StoredService, { members }: Songbook): Serving[] {
  return people.flatMap(({ member, roles, voice }) => {
    const found = members.get(member);
    if (!found) return [];
    return [{ ...found, comfortable: voice ?? found.comfortable, roles }];
  });
}

function check(
  { pins, most }: BestOrderQuestionRead,
  { items }: StoredService,
  serving: readonly Serving[],
): void {
  const line = Object.keys(pins).find((each) => !items.some(({ id }) => id === each));
  if (line !== undefined)
    throw invalidInput(`pins.${line}`, `The order has no line with the id ${line}.`);
  const named = typeof most === 'object' ? Object.keys(most ?? {}) : [];
  const missing = named.find((each) => !serving.some(({ id }) => id === each));
  if (missing !== undefined)
    throw new Refusal('unknown-member', `Nobody with the id ${missing} serves in this service.`);
}

function linesOf(
  service: StoredService,
  book: Songbook,
  { pins }: BestOrderQuestionRead,
): LineToPlan[] {
  return service.items.map((item): LineToPlan => {
    const song = item.song === null ? undefined : book.songs.get(item.song);
    // A song that was deleted stays where it is, as a reading does.
    if (item.kind !== 'song' || !song) return { id: item.id, title: item.title, score: null };
    const { key, ...arrangement } = arrangementOf(item, song);
    return {
      id: item.id,
      title: song.title,
      score: song.score,
      arrangement,
      usual: song.arrangement.key,
      now: { key, lead: leadIn(service, item, book) },
      pinned: pins[item.id] ?? {},
    };
  });
}

async function orBusy(planner: Planner, request: PlanRequest) {
  try {
    return await planner.plan(request);
  } catch (error) {
    if (!(error instanceof PlanningError) || error.code === 'refused') throw error;
    throw new Refusal(
      'planner-busy',
      error.code === 'timeout' || error.code === 'crashed'
        ? 'This order is too much to weigh at once. Pin some of it, or let the order stay; nothing was changed.'
        : 'Other orders are being weighed. Nothing was changed; ask again in a moment.',
    );
  }
}
