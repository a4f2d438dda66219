import { KeyFit, Parts, REACH, type Key, type Singer } from '#music';
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
  const {
    song,
    score,
    arrangement,
    members: found,
  } = await findArrangedSong(store, songId, ({ singers, player }) => [
    ...(asked ?? singers),
    player,
  ]);
  const sings = new Set(asked ?? arrangement.singers);
  const members = found.filter(({ id }) => sings.has(id));
  const missing = asked?.find((id) => !members.some((member) => member.id === id));
  if (missing !== undefined) {
    throw new Refusal('unknown-member', `No member has the id ${missing}.`);
  }
  const singers = members.map(singerOf).filter((singer) => singer !== null);
  const table = KeyFit.table(score, singers);
  const player = found.find(({ id }) => id === arrangement.player);
  const costIn = Parts.handCosts(
    score,
    arrangement,
    player ?? { name: 'whoever plays', reach: REACH },
  );
  const lead = singers.find(({ id }) => id === arrangement.lead) ?? singers[0];
  const handCost = (key: Key) => {
    const cost = costIn(key);
    return cost.ok ? cost : null;
  };
  return {
    songId,
    songVersion: song.version,
    singers: singers.map(({ id }) => id),
    withoutRange: members.filter(({ comfortable }) => !comfortable).map(({ id }) => id),
    table,
    front: lead ? KeyFit.front(table, { lead: lead.id, handCost }) : null,
  };
}
