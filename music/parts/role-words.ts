import type { Role } from './part.ts';

/** Somebody by what they do. */
const WORK: Readonly<Record<Role, string>> = {
  keys: 'keys player',
  bass: 'bass player',
  guitar: 'guitar player',
  drums: 'drummer',
  'lead voice': 'lead voice',
  'harmony voice': 'harmony voice',
  leader: 'leader',
};

/** What somebody is called whose name is not for everybody: `harmony voice and drummer`; who does nothing yet, `helper`. */
export function workOf(roles: readonly Role[]): string {
  return roles.length === 0 ? 'helper' : roles.map((role) => WORK[role]).join(' and ');
}

/** `harmony voice` of `a harmony voice` and of `harmony voice 2`. */
const workIn = (name: string): string => name.replace(/^a /, '').replace(/ \d+$/, '');

/** Whether a name is only what somebody does, as `a harmony voice` and `keys player 2`: their roles beside it say nothing more. */
export function isWork(name: string, roles: readonly Role[]): boolean {
  return workIn(name) === workOf(roles);
}

/**
 * Whose sheet it is, in a rubric: `keys, first rung, for Ines`. Where the name says what they do, that stands once:
 * `keys player 2, first rung`.
 * @param what what kind of sheet it is: `first rung`; empty: nothing to say
 */
export function sayWhose(role: Role, what: string, name: string): string {
  const isSaid = workIn(name).split(' and ').includes(WORK[role]);
  const words = isSaid ? [name.replace(/^a /, ''), what] : [role, what, `for ${name}`];
  return words.filter((each) => each !== '').join(', ');
}
