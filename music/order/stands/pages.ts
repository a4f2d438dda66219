import { easierKey } from '../../hand/easier-key.ts';
import { of as playedAs, type PlayedKey } from '../../hand/played-key.ts';
import type { Arrangement, Onward, Player, Team } from '../../parts/arrangement.ts';
import { levelFor, playerOf, rolesWithPages } from '../../parts/page-players.ts';
import type { Role } from '../../parts/part.ts';
import { singersOf, type ServingSinger } from '../../parts/singer/team-singers.ts';
import { sameKey, type Key } from '../../pitch/key.ts';
import type { StandPerson, StandSong } from './terms.ts';

/** A song as it is done: its key and who leads it. */
export interface Way {
  readonly key: Key;
  readonly lead: string | null;
}

/** Everybody who serves, before or after. */
export interface Week {
  readonly people: readonly StandPerson[];
  readonly roles: readonly Role[];
}

export const weekOf = (people: readonly StandPerson[]): Week => ({
  people,
  roles: [...new Set(people.flatMap(({ roles }) => roles))],
});

/** One page of one person, before it is written. */
export interface StandPage {
  readonly role: Role;
  /** The key that is read. */
  readonly reads: Key;
  readonly played: PlayedKey | null;
  readonly player: Player;
  readonly arrangement: Arrangement;
  readonly team: Team;
}

/** Who plays the bars that lead on to the next song; singers rest there, and nothing of it stands on their page. */
const leadsOn = (role: Role): boolean => !role.endsWith('voice');

/** A page with the bars that lead on, or without them. */
export function withWayOn(page: StandPage, onward: Onward | undefined): StandPage {
  if (!leadsOn(page.role)) return page;
  const { onward: _before, ...arrangement } = page.arrangement;
  return { ...page, arrangement: { ...arrangement, ...(onward && { onward }) } };
}

/**
 * The pages that somebody has for a song.
 * @param tonic the one they read in; missing: what sounds
 * @param onward how it goes on to the next song; missing: it ends
 */
export function pagesOf(
  song: StandSong,
  person: StandPerson,
  week: Week,
  { key, lead }: Way,
  tonic: string | undefined,
  onward?: Onward,
): StandPage[] {
  const arrangement = withNames(song, week);
  const named = (song.arrangement.form ?? []).map((pass) => pass.lead);
  const leads = (id: string): boolean => lead === id || named.includes(id);
  const sung = singersOf(week.people.map(asSinger), lead, leads);
  return rolesWithPages(person.roles, leads(person.id)).map((role): StandPage => {
    const own = song.rungs[person.id];
    const player = playerOf(person, { voice: null }, role, person.name, own);
    const played = tonic === undefined ? null : playedAs(key, tonic, person.instruments, role);
    const reads = played?.plays ?? key;
    const name = week.people.find(({ id }) => id === lead)?.name ?? null;
    const team = { roles: week.roles, lead: name, ...sung };
    const page = { role, reads, played, player, team };
    return withWayOn({ ...page, arrangement: { ...arrangement, key: reads } }, onward);
  });
}

const asSinger = ({ id, name, roles, comfortable, child = false }: StandPerson): ServingSinger => ({
  id,
  name,
  roles,
  voice: comfortable,
  child,
});

/** What is printed is a name; who leads a pass and is not there gives way to who leads the song. */
function withNames({ arrangement }: StandSong, { people }: Week): StandSong['arrangement'] {
  const { form } = arrangement;
  if (!form) return arrangement;
  const named = form.map(({ lead, ...pass }) => {
    const name = people.find(({ id }) => id === lead)?.name;
    return name === undefined ? pass : { ...pass, lead: name };
  });
  return { ...arrangement, form: named };
}

/** As what somebody can read in another key: at the keys before the guitar. */
const readingRole = (roles: readonly Role[]): Role | undefined =>
  (['keys', 'guitar'] as const).find((role) => roles.includes(role));

/**
 * The tonic that somebody reads a song in once it sounds in another key: the one on their stand where button or capo
 * allow it, so that the page stays; else on the guitar open shapes, where the new key has none; undefined: as it sounds.
 */
export function tonicAfter(
  song: StandSong,
  person: StandPerson,
  before: readonly StandPage[],
  key: Key,
): string | undefined {
  const stored = song.playedIn[person.id];
  if (sameKey(song.now.key, key)) return stored;
  const role = readingRole(person.roles);
  const page = before.find((each) => each.role === role);
  if (!role || !page) return stored;
  const { tonic } = page.reads;
  const { instruments } = person;
  if (playedAs(key, tonic, instruments, role)) return tonic;
  if (key.tonic === tonic || role === 'keys') return undefined;
  return easierKey(key, { level: levelFor(person, role), role, instruments })?.plays.tonic;
}
