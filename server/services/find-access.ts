import type { Access } from '../contract/access.ts';
import type { TeamRooms } from '../store/store.ts';
import { Refusal } from './refusal.ts';
import { hashOf } from './secrets.ts';

export interface FoundAccess {
  readonly access: Access;
  /** The count of the team's changes at that moment, for answers that are kept. */
  readonly stamp: number;
}

/** How the leader's side stands to a browser. `secret`: of its session; `here`: it runs on the server's own machine. */
export async function findAccess(
  rooms: TeamRooms,
  secret: string | null,
  here: boolean,
): Promise<FoundAccess> {
  const { locked, signedIn, stamp } = await rooms.everyRequest.standing(
    secret === null ? null : hashOf(secret),
  );
  return { access: { passphrase: locked, may: locked ? signedIn : here, here }, stamp };
}

/** Why the leader's side is shut, and what opens it. */
export function shutOut({ passphrase }: Access): Refusal {
  return passphrase
    ? new Refusal(
        'not-signed-in',
        'The leader’s side asks for the passphrase. Nothing was changed; say it and try again.',
      )
    : new Refusal(
        'only-this-machine',
        'The leader’s side is open only on the machine that Partbook runs on, since it has no passphrase yet. Open it there and set one; then it opens here too, for whoever knows it.',
      );
}
