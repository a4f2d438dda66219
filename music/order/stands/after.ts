import type { OrderTeam } from '../best/terms.ts';
import type { Mishaps, StandPerson, StandService, StandSong } from './terms.ts';

const isSung = (role: string): boolean => role === 'lead voice' || role === 'harmony voice';

/** Who serves after it: whoever cannot sing plays what they play, and does not serve where that is nothing. */
export function peopleAfter(
  people: readonly StandPerson[],
  mishaps: Mishaps,
): readonly StandPerson[] {
  return people.flatMap((person): StandPerson[] => {
    const mishap = mishaps[person.id];
    switch (mishap?.kind) {
      case 'away':
        return [];
      case 'silent': {
        const roles = person.roles.filter((role) => !isSung(role));
        return roles.length === 0 ? [] : [{ ...person, roles }];
      }
      case 'voice':
        return [{ ...person, comfortable: mishap.range }];
      case undefined:
        return [person];
    }
  });
}

/**
 * This week's voices. Who may lead: the lead voices; where there are none any more, whoever is named; where they are gone
 * too, the harmony voices. The hands of a keyboard with a transpose button are not weighed: its page stays.
 */
export function teamAfter(
  { lines, congregation }: StandService,
  people: readonly StandPerson[],
  mishaps: Mishaps,
): OrderTeam {
  const named = new Set(lines.flatMap((line) => (line.score ? (line.now.lead ?? []) : [])));
  const isSilent = ({ id }: StandPerson) => mishaps[id]?.kind === 'silent';
  const has = (role: StandPerson['roles'][number]) =>
    people.filter(({ roles }) => roles.includes(role));
  const byName = people.filter((each) => named.has(each.id) && !isSilent(each));
  const [leads = []] = [has('lead voice'), byName, has('harmony voice')].filter(
    (each) => each.length > 0,
  );
  const sings = (each: StandPerson) => each.roles.some(isSung) || leads.includes(each);
  const player = has('keys').find(({ instruments }) => instruments.transposeButton !== true);
  return {
    singers: people.flatMap((each) => {
      const { id, name, comfortable, limit } = each;
      return sings(each) && comfortable ? [{ id, name, comfortable, limit }] : [];
    }),
    leads: leads.map(({ id, name }) => ({ id, name })),
    congregation,
    player: player ? { name: player.name, reach: player.reach } : null,
  };
}

/** Whether the way it stands in is as good as it was: whoever leads it is there, with the voice they had. */
export function isUntouched(
  { now }: StandSong,
  people: readonly StandPerson[],
  mishaps: Mishaps,
): boolean {
  return now.lead === null
    ? true
    : people.some(({ id }) => id === now.lead) && mishaps[now.lead] === undefined;
}
