import { ENGLISH, type Says } from '../../pitch/says.ts';
import { counted, listed } from '../../score/number-words.ts';
import type { Key } from '../../pitch/key.ts';
import type { WayKind } from '../../score/ways/transition.ts';
import type { ComesFrom, Onward } from '../arrangement.ts';
import type { Link } from './link.ts';
import type { Role } from '../part.ts';

/** `F`; of other modes `E minor`. */
export function inKey(key: Key, says: Says = ENGLISH): string {
  return key.mode === 'major' ? says.note(key.tonic) : says.key(key);
}

/** What ends a loop: `the prayer is over`. */
export function loopCue({ spoken }: Pick<Onward, 'spoken'>): string {
  return spoken === '' ? 'nobody speaks any more' : `${spoken} is over`;
}

/** `“Abide with me” in G`, in the key that sounds. */
const nextIn = ({ onward }: Link, says: Says): string =>
  `“${onward.title}” in ${inKey(onward.to.key, says)}`;

/** What stands in the margin beside the bars between. */
export function linkName(link: Link, says: Says = ENGLISH): string {
  return `On to ${nextIn(link, says)}`;
}

const BY: Readonly<Record<WayKind, string>> = {
  'straight on': 'straight on',
  'common chord': 'by a chord that is in both keys',
  dominant: 'by the dominant',
  'step up': 'up at once',
  'held bass': 'over a held bass',
  loop: 'out of a soft loop',
};

/** How the song before leads here: `comes from “Holy, Holy, Holy” in C, by the dominant`; empty: it does not. */
export function sayComesFrom(before: ComesFrom | undefined, says: Says = ENGLISH): string {
  if (!before) return '';
  return `comes from “${before.title}” in ${inKey(before.key, says)}, ${BY[before.kind]}`;
}

/** `Am and D7`. */
const chordsOf = ({ way }: Link, says: Says, from: number, to?: number): string =>
  listed(way.chords.slice(from, to).map(says.chord));

/**
 * What comes after the last verse, for whoever plays: `then Am and D7, on to “Abide with me” in G`. Empty: nothing is
 * planned.
 */
export function sayLink(link: Link | null, says: Says = ENGLISH): string {
  if (!link) return '';
  const { way, onward } = link;
  const next = nextIn(link, says);
  const bridge = link.tempo.words === '' ? '' : `; ${link.tempo.words}`;
  if (way.kind === 'straight on') return `then straight on into ${next}${bridge}`;
  if (way.kind === 'step up') return `then at once up into ${next}${bridge}`;
  if (way.looped === 0) return `then ${chordsOf(link, says, 0)}, on to ${next}`;
  const rest = chordsOf(link, says, way.looped);
  const after = rest === '' ? '' : `, then ${rest}`;
  return `then ${chordsOf(link, says, 0, way.looped)} over and over until ${loopCue(onward)}${after}, on to ${next}`;
}

const PLAYING: readonly (readonly [Role, string])[] = [
  ['keys', 'the keys play'],
  ['guitar', 'the guitar plays'],
  ['bass', 'the bass plays'],
];

/** The same for whoever sings: `then the keys play two bars; then “Abide with me” in G`. */
export function sayLinkToSingers(
  link: Link | null,
  roles: readonly Role[],
  says: Says = ENGLISH,
): string {
  if (!link) return '';
  const { way, onward } = link;
  if (way.chords.length === 0) return sayLink(link, says);
  const play = PLAYING.find(([role]) => roles.includes(role))?.[1] ?? 'the players have';
  const next = nextIn(link, says);
  if (way.looped === 0) {
    return `then ${play} ${counted(way.chords.length, 'bar', 'bars')}; then ${next}`;
  }
  const after = way.chords.length - way.looped;
  const more = after > 0 ? ` and ${counted(after, 'bar', 'bars')} more` : '';
  return `then ${play} softly until ${loopCue(onward)}${more}; then ${next}`;
}

/** Beside the bars between: how their chords lead, and in which key they are read. */
export function besideLink({ way, isRead }: Link, isFilled: boolean): string[] {
  return [
    ...(isFilled ? ['a rest fills the last bar'] : []),
    way.words,
    ...(isRead ? ['read as the song before: the new key counts after these bars'] : []),
  ];
}

/** Beside the last of them: how the beat goes over. */
export function intoNext({ tempo }: Link): string[] {
  return tempo.words === '' ? [] : [`tempo: ${tempo.words}`];
}
