import type { StoredMember } from '../store/members.store.ts';
import type { StoredPerson } from '../store/services.store.ts';
import { namesInSet } from './names-in-set.ts';

/** Who looks: the leader, or whoever holds a set link. */
export type See = 'all' | 'by link';

/** What somebody is called on a page; null: nobody is named. */
export type NameOf = (member: string | null) => string | null;

/**
 * The leader sees everybody by name. By a set link only those who serve are named, children by what they do.
 * @param members those who are there still
 */
export function namesFor(
  see: See,
  members: ReadonlyMap<string, StoredMember>,
  people: readonly StoredPerson[],
): NameOf {
  if (see === 'all') return (id) => (id === null ? null : (members.get(id)?.name ?? null));
  const serving = people.flatMap(({ member, roles }) => {
    const found = members.get(member);
    return found ? [{ ...found, roles }] : [];
  });
  const names = namesInSet(serving);
  return (id) => (id === null ? null : (names.get(id) ?? null));
}

/** The same for those alone who serve: who leads a pass and is away gives way to who leads the song. */
export function ofServing(nameOf: NameOf, people: readonly StoredPerson[]): NameOf {
  const serving = new Set(people.map(({ member }) => member));
  return (id) => (id !== null && serving.has(id) ? nameOf(id) : null);
}
