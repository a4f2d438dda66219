import type { MarkedRange, SetPerson } from '../contract/set.ts';
import type { TeamStore } from '../store/store.ts';
import { marks, requireSet, setPeople } from './find-set-view.ts';
import { requireInSet } from './names-in-set.ts';
import type { OpenedLink } from './open-link.ts';
import { Refusal } from './refusal.ts';
import { checkRanges } from './save-member.ts';

function notAllowed(): Refusal {
  return new Refusal(
    'not-allowed',
    'With this link the comfortable range of this person cannot be marked. Tell your leader the lowest and the highest note instead. Nothing was changed.',
  );
}

/**
 * Someone who holds the link marks where a singer's voice sits comfortably: their usual range, which the leader sees
 * and can set back. The furthest notes stay as they were marked.
 * `comfortable` null takes the mark back: the range is not known again. `rangeMarkedAt`: an earlier one comes back with
 * its day.
 */
export async function markRange(
  store: TeamStore,
  link: OpenedLink,
  memberId: string,
  { comfortable, rangeMarkedAt }: MarkedRange,
): Promise<SetPerson> {
  return store.together(async (rooms) => {
    const set = await requireSet(rooms, link);
    if (!marks(link, requireInSet(set.people, memberId))) throw notAllowed();
    // The rows are read in the same transaction, so the member cannot be gone or changed in between.
    const member = requireInSet(await rooms.members.findAll([memberId]), memberId);
    checkRanges({ ...member, comfortable, limit: null });
    await rooms.members.mark(memberId, member.version, comfortable, rangeMarkedAt);
    return requireInSet(setPeople(await requireSet(rooms, link), link), memberId);
  });
}
