import { Pitches } from '#music';
import type { Member, MemberChange } from '../contract/members.ts';
import type { MemberFacts, StoredMember } from '../store/members.store.ts';
import type { TeamStore } from '../store/store.ts';
import { noSuchMember, requireMember } from './find-members.ts';
import { hide, unhide, type Spoken } from './hide.ts';
import { badRange, requireRange } from './require-range.ts';
import { staleVersion } from './stale-version.ts';

/** A range is a range, and the furthest notes enclose the comfortable ones. */
export function checkRanges({ comfortable, limit }: MemberFacts): void {
  requireRange('comfortable', comfortable);
  requireRange('limit', limit);
  if (!comfortable || !limit) return;
  const within =
    Pitches.midiOf(limit.low) <= Pitches.midiOf(comfortable.low) &&
    Pitches.midiOf(limit.high) >= Pitches.midiOf(comfortable.high);
  if (!within) {
    const furthest = `The furthest notes, ${limit.low} to ${limit.high},`;
    const easy = `the comfortable ones, ${comfortable.low} to ${comfortable.high}`;
    throw badRange('limit', `${furthest} do not enclose ${easy}.`);
  }
}

export async function addMember(store: TeamStore, facts: MemberFacts): Promise<Member> {
  checkRanges(facts);
  return store.together(async (rooms) => requireMember(rooms, await rooms.members.add(facts)));
}

export async function changeMember(
  store: TeamStore,
  id: string,
  version: number,
  { rangeMarkedAt, ...change }: MemberChange,
): Promise<Member> {
  return store.together(async (rooms) => {
    const before = await rooms.members.find(id);
    if (!before) throw noSuchMember();
    checkRanges({ ...before, ...change });
    if (!(await rooms.members.update(id, version, change, rangeMarkedAt)))
      throw staleVersion(before.name);
    return requireMember(rooms, id);
  });
}

const MEMBER: Spoken<StoredMember> = { missing: noSuchMember, name: ({ name }) => name };

/** Hides the member and answers with the new version, which restoring must name. */
export function deleteMember(store: TeamStore, id: string, version: number): Promise<number> {
  return store.together(({ members }) => hide(members, id, version, MEMBER));
}

export function restoreMember(
  store: TeamStore,
  id: string,
  version: number | null,
): Promise<Member> {
  return store.together(async (rooms) => {
    await unhide(rooms.members, id, version, MEMBER);
    return requireMember(rooms, id);
  });
}
