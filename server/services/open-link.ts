import type { StoredOpening } from '../store/every-request.ts';
import type { TeamRooms } from '../store/store.ts';
import { Refusal } from './refusal.ts';
import { hashOf, sameHash } from './secrets.ts';

/** What the holder of a set link may reach. */
export interface OpenedLink {
  readonly id: string;
  readonly serviceId: string;
  readonly marksRanges: boolean;
  readonly endsAt: Date;
  /** The count of the team's changes at that moment, for answers that are kept. */
  readonly stamp: number;
}

/** Compared with where there is no such link, so that the answer takes as long as to a wrong secret. */
const NOTHING = hashOf('');

function wrongLink(): Refusal {
  return new Refusal(
    'wrong-link',
    'This link opens nothing; perhaps a part of the address was lost on the way. Ask whoever sent it to send it again.',
  );
}

/** Said only to those who hold the right secret, and nothing of the service. */
function refuseClosed({ state, served }: StoredOpening): void {
  if (state === 'revoked' || !served) {
    throw new Refusal(
      'link-revoked',
      'This link was taken back. Ask your leader for a new one; nothing is wrong with your telephone.',
    );
  }
  if (state === 'ended') {
    throw new Refusal(
      'link-ended',
      'This link has ended, as links do after the service. Ask your leader for the next one.',
    );
  }
}

/** Who holds the secret of a link may come in; asked anew before every answer, so that taking a link back acts at once. */
export async function openLink(
  rooms: TeamRooms,
  id: string,
  secret: string | null,
): Promise<OpenedLink> {
  const link = await rooms.everyRequest.opening(id);
  const right = sameHash(hashOf(secret ?? ''), link?.secretHash ?? NOTHING);
  if (!link || secret === null || !right) throw wrongLink();
  refuseClosed(link);
  const { serviceId, marksRanges, endsAt, stamp } = link;
  return { id, serviceId, marksRanges, endsAt, stamp };
}
