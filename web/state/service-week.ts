import type { Level, Role } from '#music';
import type { Arrangement } from '#server/contract/arrangements.ts';
import type { Member } from '#server/contract/members.ts';
import type { ServicePerson } from '#server/contract/services.ts';

/** Someone who serves this week, with what they do and how their voice is this week. */
export interface PersonThisWeek {
  readonly person: ServicePerson;
  /** With this week's roles and voice; null: no longer on the team's list. */
  readonly member: Member | null;
}

export function weekOf(
  people: readonly ServicePerson[],
  members: readonly Member[],
): PersonThisWeek[] {
  return people.map((person) => {
    const member = members.find(({ id }) => id === person.member);
    if (!member) return { person, member: null };
    const comfortable = person.voice ?? member.comfortable;
    return { person, member: { ...member, roles: person.roles, comfortable } };
  });
}

const sings = (role: Role): boolean => role === 'lead voice' || role === 'harmony voice';

/** Those whose voices a key must fit: whoever sings, and whoever leads. */
export function singersOf(members: readonly Member[], lead: string | null): Member[] {
  return members.filter(({ id, roles }) => roles.some(sings) || id === lead);
}

/** Who is at the keys: the usual player where they are at the keys this week, else the first who is. */
export function playerOf(
  { player }: Pick<Arrangement, 'player'>,
  members: readonly Member[],
): string | null {
  const atKeys = members.filter(({ roles }) => roles.includes('keys'));
  return (atKeys.find(({ id }) => id === player) ?? atKeys[0])?.id ?? null;
}

/** As what someone can read in another key than sounds: at the keys before the guitar; null: they read what sounds. */
export function readingRole({ roles }: Pick<Member, 'roles'>): 'keys' | 'guitar' | null {
  return roles.includes('keys') ? 'keys' : roles.includes('guitar') ? 'guitar' : null;
}

const LEVELS: readonly Level[] = ['beginner', 'intermediate', 'advanced'];

/** How somebody reads who plays: at the keys as the hand that is less far. */
export function readerOf({ level, levels, instruments }: Member, role: 'keys' | 'guitar') {
  const own =
    role === 'guitar'
      ? [levels.guitar ?? level]
      : [levels['right hand'] ?? level, levels['left hand'] ?? level];
  return { role, instruments, level: LEVELS.find((each) => own.includes(each)) ?? level };
}

/** Those who have parts in notes: guitar, drums and who only leads follow the words. */
export function withNotes(members: readonly Member[]): Member[] {
  return members.filter(({ roles }) =>
    roles.some((role) => role === 'keys' || role === 'bass' || sings(role)),
  );
}
