import type { Role } from '../parts/part.ts';

/**
 * What a role that nobody has this week means for the others, as their parts are written now: the left hand at the keys
 * has roots on every rung, and fifths, octaves and steps on the higher ones; the first rung strikes its chords again at
 * each bar line; the bass has roots and slash basses; guitar and drums read words with chords. Nothing is said of a role that the others do not lean on.
 * @param roles everything that somebody does this week
 */
export function words(roles: readonly Role[]): string[] {
  const has = (role: Role) => roles.includes(role);
  if (roles.every((role) => role === 'leader')) return [];
  return [sayKeys(has), sayBass(has), sayDrums(has), sayVoice(has)].filter((line) => line !== '');
}

type Has = (role: Role) => boolean;

function sayKeys(has: Has): string {
  if (has('keys')) return '';
  if (has('guitar')) return 'Nobody at the keys this week: the guitar alone has the chords.';
  if (has('bass'))
    return 'Nobody at the keys this week, and no guitar: the bass has the roots, and nobody plays the chords.';
  return 'Nobody at the keys this week, and no guitar or bass: nobody plays the chords, and somebody gives the singers their first note.';
}

function sayBass(has: Has): string {
  if (has('bass')) return '';
  if (has('keys')) return 'No bass this week: the left hand at the keys has the low notes.';
  if (has('guitar')) return 'No bass this week: nobody plays the roots below the guitar’s chords.';
  return '';
}

function sayDrums(has: Has): string {
  if (has('drums')) return '';
  if (has('keys'))
    return 'No drums this week: the keys keep the pulse, where they strike the chord again at each bar line.';
  if (has('bass')) return 'No drums this week: the bass keeps the pulse.';
  if (has('guitar'))
    return 'No drums this week: the guitar keeps the pulse, and no rhythm is written for it.';
  return '';
}

function sayVoice(has: Has): string {
  if (has('lead voice')) return '';
  if (has('harmony voice'))
    return 'No lead voice this week: the harmony voices have the tune on their pages and carry it.';
  return 'No lead voice this week: nobody is down to sing the tune, and no part plays it.';
}
