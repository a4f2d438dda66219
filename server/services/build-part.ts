import { Parts, Rungs, type Arrangement, type Part, type Player, type Problem } from '#music';
import type { SheetQuery } from '../contract/sheets.ts';
import type { TeamStore } from '../store/store.ts';
import { findArrangedSong, requireKey, type ArrangedSong } from './find-arranged-song.ts';
import { noSuchMember } from './find-members.ts';
import { leadsIn, withNamedLeads } from './pass-leads.ts';
import { Refusal } from './refusal.ts';
import { requireVerse } from './require-verse.ts';
import { tempoFrom } from './tempo-from.ts';

/** What of a sheet's query decides what is played, not how it looks. */
type PartQuery = Omit<SheetQuery, 'width' | 'text' | 'v' | 'names'> & Partial<Pick<SheetQuery, 'names'>>; // prettier-ignore

export interface BuiltPart {
  readonly part: Part;
  readonly player: Player;
  readonly warnings: readonly Problem[];
  /** Where the part was made from. */
  readonly from: ArrangedSong;
}

function playerOf({ members, arrangement }: ArrangedSong, query: PartQuery): Player {
  const player = query.player ?? arrangement.player;
  if (query.player !== undefined && !members.some(({ id }) => id === player)) throw noSuchMember();
  const person = Parts.playerFor(members, { player });
  const level = query.level ?? person.level;
  const levels = members.find(({ id }) => id === player)?.levels;
  const { right, left, pedal, texture, bass } = query;
  const pulse = query.pulse === undefined ? undefined : query.pulse === 1;
  const steps = { right, left, pedal, texture, pulse, bass };
  const asked = Object.entries(steps).filter(([, step]) => step !== undefined);
  return {
    ...person,
    names: query.names ?? 'english',
    role: query.role,
    level,
    rungs: { ...Rungs.rungsFor(level, query.level ? {} : levels), ...Object.fromEntries(asked) },
  };
}

function arrangementOf({ arrangement, song }: ArrangedSong, query: PartQuery): Arrangement {
  const { key, tempo, density, form } = arrangement;
  return {
    key: query.key === undefined ? key : requireKey(query.key, song.key.mode),
    tempo,
    ...tempoFrom(song.sourceFormat),
    density: query.density ?? density,
    form,
  };
}

/** The part of one player of a song as the team usually does it. */
export async function buildPart(
  store: TeamStore,
  songId: string,
  query: PartQuery,
): Promise<BuiltPart> {
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
  const leadVoice = found.members.find(({ id }) => id === found.arrangement.lead)?.comfortable;
  const built = Parts.build(found.score, arrangement, player, {
    roles,
    leadVoice: leadVoice ?? null,
  });
  if (!built.ok) {
    const { problems } = built;
    const message = problems[0]?.message ?? 'There is no such part.';
    throw new Refusal('not-possible', message, { problems });
  }
  return { part: built.value, player, warnings: built.warnings, from: found };
}
