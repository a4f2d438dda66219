import { leadOf } from '../../parts/form/pass-leads.ts';
import type { Onward } from '../../parts/arrangement.ts';
import type { Role } from '../../parts/part.ts';
import { sayKey, sayTonic } from '../../pitch/key.ts';
import { listed } from '../../score/number-words.ts';
import type { PagePair } from './page-changes.ts';
import type { StandPage } from './pages.ts';
import type { OrderOther, PageChange, StandPerson, StandPlanLine, StandSong } from './terms.ts';

/** On whose pages it stands who leads the singing; at the keys and on the bass it does not. */
const saysLeads = (role: Role): boolean => role !== 'keys' && role !== 'bass';
/** Who has the chords on to the next song over words; in notes they are bars. */
const saysChords = (role: Role): boolean =>
  role === 'guitar' || role === 'drums' || role === 'leader';

/** Who leads each pass, by name. */
const leadsOn = ({ score }: StandSong, { arrangement, team }: StandPage): (string | null)[] =>
  (arrangement.form ?? score.form).map((pass) => leadOf(pass, team.lead ?? null));

const isOther = (before: unknown, after: unknown): boolean =>
  JSON.stringify(before ?? null) !== JSON.stringify(after ?? null);

/** A change with what the page says otherwise, beside its notes: who leads, and over words the chords to the next song. */
export function withWords(
  song: StandSong,
  { name }: StandPerson,
  { before, after }: PagePair,
  change: PageChange,
): PageChange {
  if (!before || !saysLeads(after.role)) return change;
  const leads = leadsOn(song, after);
  const isLed = isOther(leadsOn(song, before), leads);
  const isOn =
    saysChords(after.role) && isOther(before.arrangement.onward, after.arrangement.onward);
  if (!isLed && !isOn) return change;
  const said = [
    ...(change.words ? [change.words] : []),
    ...(isLed ? [sayLeads(name, leads)] : []),
    ...(isOn ? [`${name}: other chords on to the next song`] : []),
  ];
  return {
    ...change,
    kind: change.kind === 'same' ? 'words' : change.kind,
    words: said.join('; '),
  };
}

function sayLeads(name: string, all: readonly (string | null)[]): string {
  const leads = [...new Set(all)].filter((lead) => lead !== null);
  if (leads.length === 0) return `${name}: the page names nobody to lead`;
  return `${name}: the page says that ${listed(leads)} ${leads.length === 1 ? 'leads' : 'lead'}`;
}

/** What the order of service says otherwise of a song, for each who leads the service: `Marit’s order: Elias leads, in G`. */
export function orderChanges(
  { now }: StandSong,
  { key, lead, changed }: Pick<StandPlanLine, 'key' | 'lead' | 'changed'>,
  people: readonly StandPerson[],
  [before, after]: readonly [Onward | undefined, Onward | undefined],
): PageChange[] {
  const leads = people.find(({ id }) => id === lead)?.name ?? 'nobody named';
  const isOn = isOther(before, after);
  const order: readonly OrderOther[] = [
    ...(changed.lead ? (['other leads'] as const) : []),
    ...(changed.key ? (['other keys'] as const) : []),
    ...(isOn ? (['other ways on'] as const) : []),
  ];
  if (order.length === 0) return [];
  const said = listed([
    ...(changed.lead ? [`${leads} leads`] : []),
    ...(changed.key ? [`${sayKey(key)}, not ${sayTonic(now.key)}`] : []),
    ...(isOn ? [after ? 'another way on to the next song' : 'no way on to the next song'] : []),
  ]);
  return people
    .filter(({ roles }) => roles.includes('leader'))
    .map(({ id, name }) => ({
      member: id,
      name,
      role: 'leader',
      kind: 'order',
      order,
      bars: 0,
      words: `${name}’s order: ${said}`,
    }));
}
