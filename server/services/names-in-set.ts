import { RoleWords, type Role } from '#music';
import { Refusal } from './refusal.ts';

export interface NamedPerson {
  readonly id: string;
  readonly name: string;
  readonly child: boolean;
  /** In this service. */
  readonly roles: readonly Role[];
}

/**
 * What those who hold a set link may call the people of a service, by id: children by what they do and not by name,
 * counted where several do the same. `people`: those of the service, in order.
 */
export function namesInSet(people: readonly NamedPerson[]): ReadonlyMap<string, string> {
  const children = people
    .filter(({ child }) => child)
    .map(({ id, roles }) => [id, RoleWords.workOf(roles)] as const);
  const nameOf = (id: string, work: string): string => {
    const alike = children.filter(([, other]) => other === work).map(([other]) => other);
    return alike.length === 1 ? `a ${work}` : `${work} ${alike.indexOf(id) + 1}`;
  };
  const adults = people.filter(({ child }) => !child).map(({ id, name }) => [id, name] as const);
  return new Map([...adults, ...children.map(([id, work]) => [id, nameOf(id, work)] as const)]);
}

/** The person of that id among those of the service. */
export function requireInSet<P extends { readonly id: string }>(
  people: readonly P[],
  id: string,
): P {
  const person = people.find((each) => each.id === id);
  if (person) return person;
  throw new Refusal(
    'no-such-person',
    'This person does not serve there, or no longer. Ask your leader, or choose another name.',
  );
}
