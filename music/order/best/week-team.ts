import type { Level, Levels } from '../../parts/level.ts';
import type { Role } from '../../parts/part.ts';
import type { Range, Singer } from '../../voice/range.ts';
import type { LineToPlan, OrderTeam } from './terms.ts';

/** Somebody who serves, with this week's voice and what they do this week. */
export interface ServingPerson {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly Role[];
  readonly level: Level;
  readonly levels: Levels;
  readonly reach: number;
  readonly comfortable: Range | null;
  readonly limit: Range | null;
}

const sings = ({ roles }: ServingPerson): boolean =>
  roles.includes('lead voice') || roles.includes('harmony voice');

const LEVELS: readonly Level[] = ['beginner', 'intermediate', 'advanced'];
const rankOf = ({ level, levels }: ServingPerson): number =>
  LEVELS.indexOf(levels['right hand'] ?? level);

/**
 * Whose voices and hands a best order is weighed on. May lead: those who serve as lead voice; where nobody does, whoever is
 * named to lead now.
 */
export function teamOf(
  people: readonly ServingPerson[],
  items: readonly LineToPlan[],
  congregation: Singer | null,
): OrderTeam {
  const named = new Set(items.flatMap((item) => (item.score ? (item.now.lead ?? []) : [])));
  const voices = people.filter(({ roles }) => roles.includes('lead voice'));
  const leads = voices.length > 0 ? voices : people.filter(({ id }) => named.has(id));
  const [player] = people
    .filter(({ roles }) => roles.includes('keys'))
    .sort((one, other) => rankOf(one) - rankOf(other) || one.reach - other.reach);
  return {
    singers: people
      .filter((each) => sings(each) || named.has(each.id))
      .flatMap(({ id, name, comfortable, limit }) =>
        comfortable ? [{ id, name, comfortable, limit }] : [],
      ),
    leads: leads.map(({ id, name }) => ({ id, name })),
    congregation,
    player: player ? { name: player.name, reach: player.reach } : null,
  };
}
