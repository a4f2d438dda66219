import type { Member } from '../contract/members.ts';
import type { StoredMember } from '../store/members.store.ts';
import type { Presence } from '../store/scope.ts';
import type { TeamRooms } from '../store/store.ts';
import { Refusal } from './refusal.ts';

export function noSuchMember(): Refusal {
  return new Refusal(
    'no-such-member',
    'There is no such member here. They may have been deleted; deleted members can be restored from the list.',
  );
}

function memberOf(stored: StoredMember): Member {
  return {
    ...stored,
    roles: [...stored.roles],
    levels: { ...stored.levels },
    instruments: { ...stored.instruments },
    rangeMarkedAt: stored.rangeMarkedAt?.toISOString() ?? null,
    deletedAt: stored.deletedAt?.toISOString() ?? null,
  };
}

export async function listMembers(rooms: TeamRooms, which: Presence): Promise<Member[]> {
  return (await rooms.members.list(which)).map(memberOf);
}

export async function requireMember(rooms: TeamRooms, id: string): Promise<Member> {
  const member = await rooms.members.find(id);
  if (!member) throw noSuchMember();
  return memberOf(member);
}
