import { KeyFit, type Singer } from '#music';
import type { KeyFitAnswer } from '../contract/key-fit.ts';
import type { StoredMember } from '../store/members.store.ts';
import type { TeamStore } from '../store/store.ts';
import { findArrangedSong } from './find-arranged-song.ts';
import { Refusal } from './refusal.ts';

function singerOf({ id, name, comfortable, limit }: StoredMember): Singer | null {
  return comfortable && { id, name, comfortable, limit };
}

/** How the tune lies in each voice in each key. `asked`: ids of members; null: the singers of the arrangement. */
export async function fitKeys(
  store: TeamStore,
  songId: string,
  asked: readonly string[] | null,
): Promise<KeyFitAnswer> {
  const { song, score, arrangement, members } = await findArrangedSong(
    store,
    songId,
    ({ singers }) => asked ?? singers,
  );
  const missing = asked?.find((id) => !members.some((member) => member.id === id));
  if (missing !== undefined) {
    throw new Refusal('unknown-member', `No member has the id ${missing}.`);
  }
  const singers = members.map(singerOf).filter((singer) => singer !== null);
  const table = KeyFit.table(score, singers);
  const lead = singers.find(({ id }) => id === arrangement.lead) ?? singers[0];
  return {
    songId,
    songVersion: song.version,
    singers: singers.map(({ id }) => id),
    withoutRange: members.filter(({ comfortable }) => !comfortable).map(({ id }) => id),
    table,
    front: lead ? KeyFit.front(table, { lead: lead.id }) : null,
  };
}
