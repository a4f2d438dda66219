import { Pitches } from '#music';
import type { Member, MemberChange } from '../contract/members.ts';
import type { MemberFacts } from '../store/members.store.ts';
import type { TeamStore } from '../store/store.ts';
import { noSuchMember, requireMember } from './find-members.ts';
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
  change: MemberChange,
): Promise<Member> {
  return store.together(async (rooms) => {
    const before = await rooms.members.find(id);
    if (!before) throw noSuchMember();
    const facts: MemberFacts = { ...before, ...change };
    checkRanges(facts);
    if (!(await rooms.members.update(id, version, facts))) throw staleVersion(before.name);
    return requireMember(rooms, id);
  });
}

/** Hides the member and answers with the new version, which restoring must name. */
export async function deleteMember(store: TeamStore, id: string, version: number): Promise<number> {
  return store.together(async ({ members }) => {
    const member = await members.find(id);
    if (!member) throw noSuchMember();
    if (!(await members.show(id, version, false))) throw staleVersion(member.name);
    return member.version + 1;
  });
}

/** A deleted member cannot have been edited, so no version need be named; one that is named must be the right one. */
export async function restoreMember(
  store: TeamStore,
  id: string,
  version: number | null,
): Promise<Member> {
  return store.together(async (rooms) => {
    const member = await rooms.members.find(id, 'deleted');
    if (!member) throw noSuchMember();
    if (!(await rooms.members.show(id, version ?? member.version, true)))
      throw staleVersion(member.name);
    return requireMember(rooms, id);
  });
}
