import { say, signed, type PlayedKey } from '../../hand/played-key.ts';
import {
  barsChanged,
  countChanged,
  linkBarsGone,
  sayBarsChanged,
  sungBarsChanged,
  type ChangedHand,
} from '../../parts/bars-changed.ts';
import type { Role } from '../../parts/part.ts';
import { sameKey, sayTonic } from '../../pitch/key.ts';
import { counted } from '../../score/number-words.ts';
import type { StandPage } from './pages.ts';
import type { PartShelf } from './part-shelf.ts';
import { STAND_PRICES, type PageChange, type StandPerson, type StandSong } from './terms.ts';

/** A page as it was and as it is; `before` null: there was none. */
export interface PagePair {
  readonly before: StandPage | null;
  readonly after: StandPage;
}

const isSung = (role: Role): boolean => role === 'lead voice' || role === 'harmony voice';
/** Who reads notes; the guitar has its chords over the words, and drums and leader only the words. */
const hasNotes = (role: Role): boolean => role === 'keys' || role === 'bass' || isSung(role);
const isMoved = (role: Role): boolean => hasNotes(role) || role === 'guitar';
/** A page takes the place of the one of the same kind: a lead’s that of a harmony voice. */
const kindOf = (role: Role): string => (isSung(role) ? 'sung' : role);

export function paired(before: readonly StandPage[], after: readonly StandPage[]): PagePair[] {
  return after.map((page) => ({
    before: before.find(({ role }) => kindOf(role) === kindOf(page.role)) ?? null,
    after: page,
  }));
}

/**
 * Bars of a whole page: in another key every one of them is other. Notes count as they are written out, an introduction and
 * sections that stand twice with them, which is the same in every key; words with chords count the bars of the song once. A
 * song without bars counts as one.
 */
export function barsOfPage({ score }: StandSong, pair: PagePair, shelf: PartShelf): number {
  const page = pair.before ?? pair.after;
  const part = hasNotes(page.role) ? shelf.part(score, page) : null;
  return Math.max(1, (part?.score ?? score).bars.length);
}

const isInOtherKey = ({ before, after }: PagePair): boolean =>
  before !== null && !sameKey(before.reads, after.reads);

/** Whether both parts have to be written to know what differs. */
export function needsParts(song: StandSong, pair: PagePair, shelf: PartShelf): boolean {
  const { before, after } = pair;
  if (!before || !hasNotes(after.role) || isInOtherKey(pair)) return false;
  return shelf.signOf(song.score, before) !== shelf.signOf(song.score, after);
}

const settingOf = (page: StandPage | null): number => page?.played?.amount ?? 0;
const isSetAnew = ({ before, after }: PagePair): boolean =>
  before !== null && settingOf(before) !== settingOf(after);

/** Points of a change, as far as it is known without comparing notes; never more than `pointsOf` the change. */
export function pointsAtLeast(song: StandSong, pair: PagePair, shelf: PartShelf): number {
  const isWhole = isMoved(pair.after.role) && (pair.before === null || isInOtherKey(pair));
  return pointsFor(pair, isWhole ? barsOfPage(song, pair, shelf) : 0);
}

/** Points of a page once it is known what differs. */
export const pointsOf = (pair: PagePair, { bars }: Pick<PageChange, 'bars'>): number =>
  pointsFor(pair, bars);

/** Whether the key is another or the line, a bar of somebody costs the same. */
function pointsFor(pair: PagePair, bars: number): number {
  const price = isSung(pair.after.role) ? STAND_PRICES.barSung : STAND_PRICES.bar;
  return Math.ceil(price * bars) + (isSetAnew(pair) ? STAND_PRICES.setting : 0);
}

/** What becomes of a page, to the bar. Writes parts where only they can say it. */
export function changeOf(
  song: StandSong,
  person: StandPerson,
  pair: PagePair,
  shelf: PartShelf,
): PageChange {
  const { before, after } = pair;
  const place = { member: person.id, name: person.name, role: after.role };
  const setting = isSetAnew(pair) ? { setting: after.played } : {};
  const said = isSetAnew(pair) ? saySetting(person.name, after.played, before) : '';
  if (!before || isInOtherKey(pair)) {
    const isRead = isMoved(after.role);
    const words = !isRead ? '' : before ? sayKey(person.name, pair) : sayNew(person.name, after);
    return {
      ...place,
      ...setting,
      kind: !isRead ? 'same' : before ? 'key' : 'new',
      bars: isRead ? barsOfPage(song, pair, shelf) : 0,
      words,
    };
  }
  const { hands, gone } = needsParts(song, pair, shelf) ? differing(song, pair, shelf) : SAME;
  const bars = countChanged(hands) + gone;
  const part = bars > 0 ? shelf.part(song.score, after) : null;
  const words = [
    said,
    part && hands.length > 0 ? sayBarsChanged(person.name, part, hands) : '',
    gone > 0
      ? `${person.name}: ${counted(gone, 'bar', 'bars')} on to the next song ${gone === 1 ? 'is' : 'are'} gone`
      : '',
  ].filter((each) => each !== '');
  return { ...place, ...setting, kind: bars > 0 ? 'bars' : 'same', bars, words: words.join('; ') };
}

interface Differing {
  readonly hands: readonly ChangedHand[];
  /** Bars that led on to the next song and stand there no more. */
  readonly gone: number;
}

const SAME: Differing = { hands: [], gone: 0 };

function differing({ score }: StandSong, { before, after }: PagePair, shelf: PartShelf): Differing {
  const was = before && shelf.part(score, before);
  const now = shelf.part(score, after);
  if (!was || !now) return SAME;
  const hands = isSung(after.role)
    ? sungBarsChanged(was, now).map((line) => ({ ...line, name: 'line' }))
    : barsChanged(was, now);
  return { hands, gone: linkBarsGone(was, now) };
}

/** `Joel: keyboard set to +2, the page stays in C`; `Joel: keyboard back to 0, the page stays in D`. */
function saySetting(name: string, played: PlayedKey | null, before: StandPage | null): string {
  const page = before ? `, the page stays in ${say(before.reads)}` : '';
  if (played?.by === 'transpose button')
    return `${name}: keyboard set to ${signed(played.amount)}${page}`;
  if (played) return `${name}: capo ${played.amount}${page}`;
  return before?.played?.by === 'capo'
    ? `${name}: no capo${page}`
    : `${name}: keyboard back to 0${page}`;
}

function sayKey(name: string, { before, after }: PagePair): string {
  const was = before ? `, not in ${sayTonic(before.reads)}` : '';
  const { played } = after;
  if (played?.by === 'capo')
    return `${name}: capo ${played.amount}, shapes of ${say(played.plays)}${was}`;
  return isSung(after.role)
    ? `${name} sings it in ${sayTonic(after.reads)}${was}`
    : `${name} plays it in ${sayTonic(after.reads)}${was}`;
}

const sayNew = (name: string, { role }: StandPage): string => `${name}: a page for the ${role}`;
