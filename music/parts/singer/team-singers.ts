import type { Range } from '../../voice/range.ts';
import type { Team } from '../arrangement.ts';
import { rolesWithPages } from '../page-players.ts';
import type { Role } from '../part.ts';

/** Somebody who serves, as far as the singing goes. */
export interface ServingSinger {
  readonly id: string;
  /** As the page may say it. */
  readonly name: string;
  readonly roles: readonly Role[];
  /** This week's comfortable range, as it sounds; null: not known. */
  readonly voice: Range | null;
  /** Where a child's voice sits decides no line but their own. */
  readonly child: boolean;
}

/**
 * What the parts of a song know of who sings: how the tune is heard, and who sings beside it, in the order of the service,
 * children last, so that nobody's page tells where a child's voice sits.
 * @param lead id of who leads the singing of the song; null: nobody
 * @param leads whether somebody leads it, or a pass of it
 */
export function singersOf(
  people: readonly ServingSinger[],
  lead: string | null,
  leads: (id: string) => boolean,
): Pick<Team, 'leadVoice' | 'harmonies'> {
  const first = people.find(({ id, child }) => id === lead && !child);
  const beside = people.filter(({ id, roles }) =>
    rolesWithPages(roles, leads(id)).includes('harmony voice'),
  );
  const inOrder = [...beside.filter(({ child }) => !child), ...beside.filter(({ child }) => child)];
  return {
    leadVoice: first?.voice ?? null,
    harmonies: inOrder.flatMap(({ id, name, voice }) => (voice ? [{ id, name, voice }] : [])),
  };
}
