import {
  Parts,
  Rungs,
  Sheets,
  type Arrangement,
  type PageRequest,
  type Player,
  type Sheet,
} from '#music';
import type { SheetQuery } from '../contract/sheets.ts';
import type { Renderer } from '../render/renderer.ts';
import type { TeamStore } from '../store/store.ts';
import { engrave } from './engrave.ts';
import { findArrangedSong, requireKey, type ArrangedSong } from './find-arranged-song.ts';
import { noSuchMember } from './find-members.ts';
import { leadsIn, withNamedLeads } from './pass-leads.ts';
import { Refusal } from './refusal.ts';
import { requireVerse } from './require-verse.ts';

function playerOf({ members, arrangement }: ArrangedSong, query: SheetQuery): Player {
  const player = query.player ?? arrangement.player;
  if (query.player !== undefined && !members.some(({ id }) => id === player)) throw noSuchMember();
  const person = Parts.playerFor(members, { player });
  const level = query.level ?? person.level;
  const levels = members.find(({ id }) => id === player)?.levels;
  const { right, left, pedal, texture } = query;
  const asked = Object.entries({ right, left, pedal, texture }).filter(([, step]) => step);
  return {
    ...person,
    role: query.role,
    level,
    rungs: { ...Rungs.rungsFor(level, query.level ? {} : levels), ...Object.fromEntries(asked) },
  };
}

function arrangementOf({ arrangement, song }: ArrangedSong, query: SheetQuery): Arrangement {
  const { key, tempo, density, form } = arrangement;
  return {
    key: query.key === undefined ? key : requireKey(query.key, song.key.mode),
    tempo,
    density: query.density ?? density,
    form,
  };
}

/** The page of one player, engraved for a view. */
export async function makeSheet(
  store: TeamStore,
  renderer: Renderer,
  songId: string,
  query: SheetQuery,
): Promise<Sheet> {
  const found = await findArrangedSong(store, songId, ({ player, lead, singers, form }) => [
    query.player ?? player,
    lead,
    ...singers,
    ...leadsIn('form', form).map(({ member }) => member),
  ]);
  requireVerse(found.score, query.verse);
  const player = playerOf(found, query);
  const roles = [...new Set(found.members.flatMap((member) => member.roles))];
  const nameOf = (id: string | null) => found.members.find((each) => each.id === id)?.name ?? null;
  const arrangement = withNamedLeads(arrangementOf(found, query), nameOf);
  const built = Parts.build(found.score, arrangement, player, { roles });
  if (!built.ok) {
    const { problems } = built;
    const message = problems[0]?.message ?? 'There is no such part.';
    throw new Refusal('not-possible', message, { problems });
  }
  const { width, text: textScale, verse = null } = query;
  const page: PageRequest = { width, textScale, verse };
  const engraved = await engrave(renderer, Sheets.request(built.value, page));
  return Sheets.of(built.value, player, page, engraved, built.warnings);
}
