import type { Arrangement, ComesFrom, Onward } from '../parts/arrangement.ts';
import { keyAtEnd, keyAtStart } from '../parts/form/keys-of-form.ts';
import { isWordsOnly } from '../parts/laid-out.ts';
import { inKey } from '../parts/link/link-words.ts';
import { plan as planRight } from '../hand/right-hand.ts';
import { homeOf } from '../score/ways/pivots.ts';
import { say } from '../pitch/chord-symbol.ts';
import type { PitchName } from '../pitch/pitch.ts';
import { listed } from '../score/number-words.ts';
import { unfold } from '../score/form.ts';
import type { Score, Tempo } from '../score/score.ts';
import { inTempo } from '../score/tempos.ts';
import { tempoAt } from '../score/time.ts';
import {
  between,
  type SongEdge,
  type Transition,
  type Way,
  type WayKind,
} from '../score/ways/transition.ts';

export { inKey } from '../parts/link/link-words.ts';

/** A line of an order, as far as the music goes on over it. */
export interface OrderedItem {
  readonly kind: 'song' | 'reading' | 'prayer' | 'talk' | 'other';
  /** Empty: it is called by its kind. */
  readonly title: string;
  readonly wayOn: WayKind | null;
  /** Null: not a song, or one that is not there. */
  readonly song: { readonly score: Score; readonly arrangement: Arrangement } | null;
}

/** Two songs of an order with no song between them. */
export interface Neighbours {
  /** Place of the next song in the order. */
  readonly next: number;
  readonly title: string;
  /** What is spoken between them: `the reading`; empty: nothing. */
  readonly spoken: string;
  readonly from: SongEdge;
  readonly to: SongEdge;
  /** Over what is spoken only a loop goes on. */
  readonly ways: readonly Way[];
  readonly tempo: Transition['tempo'];
}

/**
 * What a song of an order and the next one are to each other; a sentence instead where nothing can lead from one to the
 * other; empty: it is no song, or the last.
 */
export function neighboursAt(items: readonly OrderedItem[], at: number): Neighbours | string {
  const here = items[at];
  const next = items.findIndex(({ kind }, i) => i > at && kind === 'song');
  const there = items[next];
  if (here?.kind !== 'song' || !there) return '';
  for (const { song, title } of [here, there]) {
    const name = title || song?.score.facts.title;
    if (!song) return `${name ? `“${name}”` : 'A song'} is not in the book, so there is no key to lead to or from.`; // prettier-ignore
    if (isWordsOnly(song.score)) return `“${name ?? ''}” has words alone, so there is no key to lead to or from.`; // prettier-ignore
  }
  const [from, to] = [endOf(here.song as Song), startOf(there.song as Song)];
  const spoken = listed(items.slice(at + 1, next).map(sayItem));
  const { ways, tempo } = between(from, to);
  return {
    next,
    title: there.title || (there.song as Song).score.facts.title,
    spoken,
    from,
    to,
    ways: spoken === '' ? ways : ways.filter(({ kind }) => kind === 'loop'),
    tempo,
  };
}

type Song = NonNullable<OrderedItem['song']>;

const sayItem = ({ kind, title }: OrderedItem): string =>
  kind === 'other' ? title || 'what comes between' : `the ${kind}`;

function inTime({ score, arrangement }: Song): Score {
  return { ...inTempo(score, arrangement.tempo), form: arrangement.form ?? score.form };
}

function endOf(song: Song): SongEdge {
  const timed = inTime(song);
  const last = unfold(timed).at(-1)?.to ?? 1;
  const tempo: Tempo | null = song.score.untimed ? null : tempoAt(timed, last - 1);
  return { key: keyAtEnd(song.arrangement, song.score), tempo };
}

function startOf(song: Song): SongEdge {
  const tempo = song.score.untimed ? null : inTime(song).tempo;
  return { key: keyAtStart(song.arrangement, song.score), tempo };
}

/** The way on from a song of an order, for everybody's parts; null: none is chosen, or it is not there any more. */
export function onwardAt(items: readonly OrderedItem[], at: number): Onward | null {
  const here = items[at];
  const found = here?.wayOn ? neighboursAt(items, at) : '';
  if (typeof found === 'string' || !here?.song) return null;
  const way = found.ways.find(({ kind }) => kind === here.wayOn);
  if (!way) return null;
  const { title, to, spoken } = found;
  return { kind: way.kind, title, to, sounds: here.song.arrangement.key, spoken };
}

/** How the song before leads here; null: it does not. */
export function comesFrom(items: readonly OrderedItem[], at: number): ComesFrom | null {
  const before = items.findLastIndex(({ kind }, i) => i < at && kind === 'song');
  const found = onwardAt(items, before);
  const pair = found && neighboursAt(items, before);
  if (!found || !pair || typeof pair === 'string') return null;
  const title = items[before]?.title || (items[before]?.song?.score.facts.title ?? '');
  return { title, key: pair.from.key, kind: found.kind };
}

/** The same order with each song's way on in its arrangement. */
export function withOnward<T extends OrderedItem>(items: readonly T[]): T[] {
  return items.map((item, at) => {
    const onward = onwardAt(items, at);
    if (!onward || !item.song) return item;
    return { ...item, song: { ...item.song, arrangement: { ...item.song.arrangement, onward } } };
  });
}

/** `by Am and D7, common chord, into G`; `straight on in F`. */
export function sayWay({ kind, chords, looped }: Way, to: SongEdge): string {
  const into = inKey(to.key);
  if (kind === 'straight on') return `straight on in ${into}`;
  if (kind === 'step up') return `up at once into ${into}`;
  const said = (from: number, end?: number) => listed(chords.slice(from, end).map(say));
  if (looped === 0) return `by ${said(0)}, ${kind}, into ${into}`;
  const after = said(looped);
  return `${said(0, looped)} over and over${after ? `, then ${after}` : ''}, into ${into}`;
}

/** Why a way that was chosen is none between these songs: `no common chord between F and B any more`. */
export function sayGone(kind: WayKind, { from, to, spoken }: Neighbours): string {
  const keys = `${inKey(from.key)} and ${inKey(to.key)}`;
  if (spoken !== '' && kind !== 'loop')
    return `${spoken} stands between now, so ${kind === 'straight on' ? 'nothing goes straight on' : `there is no ${kind}`} any more`;
  if (kind === 'straight on') return `${keys} are two keys now: not straight on any more`;
  if (kind === 'step up') return `no step up between ${keys} any more`;
  return `no ${kind} between ${keys} any more`;
}

/**
 * How the music goes on after a line of an order, for the leader's page: `then by Am and D7, common chord, into G`; what
 * was chosen and is no longer there says so. Empty: nothing is chosen.
 */
export function sayOnward(items: readonly OrderedItem[], at: number): string {
  const kind = items[at]?.wayOn;
  if (!kind) return '';
  const found = neighboursAt(items, at);
  if (found === '') return `no song follows any more, so the ${kind} waits for one`;
  if (typeof found === 'string') return found;
  const way = found.ways.find((each) => each.kind === kind);
  if (!way) return `${sayGone(kind, found)}; choose another way`;
  const tempo = found.tempo.words === '' ? '' : `; ${found.tempo.words}`;
  const over = found.spoken === '' ? '' : `under ${found.spoken}: `;
  return `then ${over}${sayWay(way, found.to)}${tempo}`;
}

/** In which the right hand plays what is heard of a way: round middle C (ours). */
const HEARD = { register: { low: 'G3', high: 'D5' }, reach: 14, most: 3 } as const;

/**
 * A way to be heard before it is chosen: the chord that the one song ends on, what is played between and the chord that the
 * other begins with, each as pitches that sound together, the bass first. Empty where a hand cannot play them.
 */
export function heard({ chords }: Way, from: SongEdge, to: SongEdge): PitchName[][] {
  const all = [homeOf(from.key), ...chords, homeOf(to.key)];
  const planned = planRight(all, HEARD);
  if (!planned.ok) return [];
  return all.map(({ root, bass }, i) => [`${bass ?? root}2`, ...(planned.shapes[i]?.notes ?? [])]);
}
