import { Congregation, KeyFit, Parts, type Key } from '#music';
import type { KeyFitAnswer, KeyFitQuery } from '../contract/key-fit.ts';
import type { TeamStore } from '../store/store.ts';
import { findArrangedSong } from './find-arranged-song.ts';
import { requireTeam } from './find-team.ts';
import { Refusal } from './refusal.ts';

/** How the tune lies in each voice in each key. Nobody asked for: the singers of the arrangement, the room as the team has it. */
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
  const congregation = await congregationOf(store, query);
  const voices = KeyFit.voicesOf(members, congregation);
  const table = KeyFit.table(score, voices, { form: arrangement.form });
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

/** The guideline that is asked for, else what the team has chosen. null: it does not count. */
async function congregationOf(
  store: TeamStore,
  { congregation }: KeyFitQuery,
): Promise<KeyFitAnswer['congregation']> {
  if (congregation === 'none') return null;
  return congregation ?? (await requireTeam(store)).congregation ?? Congregation.DEFAULT_GUIDELINE;
}
