import {
  Parts,
  REACH,
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
import { Refusal } from './refusal.ts';

/** Where nobody is named the page is for anybody at that level. */
const ANYBODY = { id: 'anybody', name: 'whoever plays', level: 'beginner', reach: REACH };

function playerOf({ members, arrangement }: ArrangedSong, query: SheetQuery): Player {
  const id = query.player ?? arrangement.player;
  const member = members.find((each) => each.id === id);
  if (query.player !== undefined && !member) throw noSuchMember();
  const { level, ...rest } = member ?? { ...ANYBODY, level: 'beginner' as const };
  return {
    id: rest.id,
    name: rest.name,
    reach: rest.reach,
    role: query.role,
    level: query.level ?? level,
  };
}

function arrangementOf({ arrangement, song }: ArrangedSong, query: SheetQuery): Arrangement {
  const { key, tempo, density } = arrangement;
  return {
    key: query.key === undefined ? key : requireKey(query.key, song.key.mode),
    tempo,
    density: query.density ?? density,
  };
}

/** The page of one player, engraved for a view. */
export async function makeSheet(
  store: TeamStore,
  renderer: Renderer,
  songId: string,
  query: SheetQuery,
): Promise<Sheet> {
  const found = await findArrangedSong(store, songId, ({ player, lead, singers }) => [
    query.player ?? player,
    lead,
    ...singers,
  ]);
  const player = playerOf(found, query);
  const roles = [...new Set(found.members.flatMap((member) => member.roles))];
  const built = Parts.build(found.score, arrangementOf(found, query), player, { roles });
  if (!built.ok) {
    const { problems } = built;
    const message = problems[0]?.message ?? 'There is no such part.';
    throw new Refusal('not-possible', message, { problems });
  }
  const page: PageRequest = { width: query.width, textScale: query.text, verse: query.verse };
  const engraved = await engrave(renderer, Sheets.request(built.value, page));
  return Sheets.of(built.value, player, page, engraved, built.warnings);
}
