import type {
  Known,
  Member,
  MemberChange,
  MemberList,
  NewMember,
} from '#server/contract/members.ts';
import { askKept } from './ask-kept.ts';
import { ask, type Answer } from './http.ts';

export function listMembers(): Promise<Answer<MemberList>> {
  return askKept('/members');
}

export function createMember(member: NewMember): Promise<Answer<Member>> {
  return ask('/members', { method: 'POST', body: member });
}

export function changeMember(
  id: string,
  version: number,
  change: MemberChange,
): Promise<Answer<Member>> {
  return ask(`/members/${id}`, { method: 'PATCH', body: change, version });
}

export function deleteMember(id: string, version: number): Promise<Answer<void>> {
  return ask(`/members/${id}`, { method: 'DELETE', version });
}

/** What they have met at the keys, and which songs, in the services that are over. */
export function findKnown(id: string): Promise<Answer<Known>> {
  return ask(`/members/${id}/known`);
}

export function restoreMember(id: string): Promise<Answer<Member>> {
  return ask(`/members/${id}/restore`, { method: 'POST' });
}
