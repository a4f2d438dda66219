import { KeyFit, Parts, type Key } from '#music';
import type { KeyFitAnswer, KeyFitQuery } from '../contract/key-fit.ts';
import type { TeamStore } from '../store/store.ts';
import { findArrangedSong } from './find-arranged-song.ts';
import { Refusal } from './refusal.ts';

/** How the tune lies in each voice in each key. Nobody asked for: the singers of the arrangement. */
export async function fitKeys(
  store: TeamStore,
  songId: string,
  query: KeyFitQuery,
): Promise<KeyFitAnswer> {
  const { song, score, arrangement } = await findArrangedSong(store, songId, () => []);
  const everyone = await store.members.list('present');
  const asked = query.singers?.split(',');
  const missing = asked?.find((id) => !everyone.some((member) => member.id === id));
  if (missing !== undefined) {
    throw new Refusal('unknown-member', `No member has the id ${missing}.`);
  }
  const sings = new Set(asked ?? arrangement.singers);
  const members = everyone.filter(({ id }) => sings.has(id));
  const congregation = query.congregation === 'none' ? null : query.congregation;
  const voices = KeyFit.voicesOf(members, congregation);
  const table = KeyFit.table(score, voices);
  const costIn = Parts.handCosts(score, arrangement, Parts.playerFor(everyone, arrangement));
  const lead = KeyFit.leadOf(voices, arrangement.lead);
  const handCost = (key: Key) => {
    const cost = costIn(key);
    return cost.ok ? cost : null;
  };
  return {
    songId,
    songVersion: song.version,
    singers: members.filter(({ comfortable }) => comfortable).map(({ id }) => id),
    congregation,
    withoutRange: members.filter(({ comfortable }) => !comfortable).map(({ id }) => id),
    table,
    front: lead === null ? null : KeyFit.front(table, { lead, handCost }),
  };
}
