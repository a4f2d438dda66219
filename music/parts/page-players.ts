import type { Range } from '../voice/range.ts';
import type { Instruments, Player } from './arrangement.ts';
import type { Level, Levels } from './level.ts';
import type { Role } from './part.ts';
import { rungsFor, type OwnRungs } from './rungs.ts';

/** What is known of somebody on the team. */
export interface TeamMember {
  readonly id: string;
  /** The usual level. */
  readonly level: Level;
  readonly levels: Levels;
  readonly instruments: Instruments;
  /** The widest shape one hand takes, in semitones. */
  readonly reach: number;
  /** As it sounds; null: not known. */
  readonly comfortable: Range | null;
}

const RUNGS: readonly Level[] = ['beginner', 'intermediate', 'advanced'];
const lower = (a: Level, b: Level): Level => (RUNGS.indexOf(a) < RUNGS.indexOf(b) ? a : b);

/** At which level somebody does something: at the keys one part holds both hands, so the lower of theirs. */
export function levelFor(
  { level, levels }: Pick<TeamMember, 'level' | 'levels'>,
  role: Role,
): Level {
  switch (role) {
    case 'keys':
      return lower(levels['right hand'] ?? level, levels['left hand'] ?? level);
    case 'bass':
    case 'guitar':
    case 'drums':
      return levels[role] ?? level;
    case 'lead voice':
    case 'harmony voice':
      return levels.voice ?? level;
    case 'leader':
      return level;
  }
}

/**
 * Somebody with a part of this week: with this week's voice where they have one.
 * @param own what they play of this song at the keys or the bass where it is not as their levels say
 */
export function playerOf(
  member: TeamMember,
  { voice }: { readonly voice: Range | null },
  role: Role,
  name: string,
  own: OwnRungs = {},
): Player {
  return {
    id: member.id,
    name,
    role,
    level: levelFor(member, role),
    reach: member.reach,
    instruments: member.instruments,
    ...(role === 'keys'
      ? { rungs: { ...rungsFor(member.level, member.levels), ...own } }
      : role === 'bass'
        ? { rungs: own }
        : {}),
    voice: voice ?? member.comfortable,
  };
}

/** In the order in which the pages of one song lie. */
const PLAYED: readonly Role[] = ['keys', 'bass', 'guitar', 'drums'];

/**
 * As what somebody needs a page of a song: one for each thing they play, and one for singing; who only leads the
 * service follows the words.
 * @param leads whether they lead the singing of this song, or of a pass of it
 */
export function rolesWithPages(roles: readonly Role[], leads: boolean): Role[] {
  const played = PLAYED.filter((role) => roles.includes(role));
  const sung = (['lead voice', 'harmony voice'] as const).filter((role) => roles.includes(role));
  const sings = leads ? sung[0] : sung.at(-1);
  const all = [...played, ...(sings ? [sings] : [])];
  return all.length === 0 && roles.includes('leader') ? ['leader'] : all;
}
