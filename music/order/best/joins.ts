import { sameKey, sayTonic, writeKey, type Key } from '../../pitch/key.ts';
import { keyAtEnd, keyAtStart, raisedKey, upOf } from '../../parts/form/keys-of-form.ts';
import { counted } from '../../score/number-words.ts';
import { commonTriads, soundsLike } from '../key-ways.ts';
import { PRICES, type OrderCost, type SongToPlan } from './terms.ts';

/** A song in a key: the key itself, and those that its form begins and ends in. */
export interface KeysOfSong {
  readonly key: Key;
  readonly start: Key;
  readonly end: Key;
}

/**
 * The keys that a song begins and ends in, in whichever key it is done: its own changes of key, and passes that are
 * raised, count. Passes through sections that are gone do not.
 */
export function keysOfSong({
  score,
  arrangement,
}: Pick<SongToPlan, 'score' | 'arrangement'>): (key: Key) => KeysOfSong {
  const form = (arrangement.form ?? score.form).filter((pass) =>
    score.sections.some(({ id }) => id === pass.section),
  );
  const isWords = score.untimed === true && score.chords.length === 0;
  const [first, last] = [form[0], form.at(-1)].map((pass) => (pass && !isWords ? upOf(pass) : 0));
  const modulates = score.keys.length > 1 && !isWords;
  const known = new Map<Key, KeysOfSong>();
  return (key) => {
    const found = known.get(key) ?? {
      key,
      start: modulates ? keyAtStart({ key, form }, score) : raisedKey(key, first ?? 0),
      end: modulates ? keyAtEnd({ key, form }, score) : raisedKey(key, last ?? 0),
    };
    known.set(key, found);
    return found;
  };
}

/**
 * What it costs to go from one song to the next, from the key that the first ends in to the one that the other begins in.
 * @param apart something else stands between the songs
 */
export function songJoin(from: KeysOfSong, to: KeysOfSong, apart: boolean): OrderCost {
  const cost = joinCost(from.end, to.start, apart);
  const ends = sameKey(from.end, from.key) ? '' : ', where the song before ends,';
  const begins = sameKey(to.start, to.key) ? '' : ', where this one begins';
  const told = cost.words.slice(cost.words.indexOf(':'));
  return {
    ...cost,
    words: `${sayTonic(from.end)}${ends} to ${sayTonic(to.start)}${begins}${told}`,
  };
}

export interface JoinPoints {
  readonly next: number;
  /** With something else between. */
  readonly apart: number;
}
const NO_JOIN: JoinPoints = { next: 0, apart: 0 };

/**
 * Points from one song in one of its keys to another in one of its own; each pair of keys is worked out once, however many
 * songs have it.
 * @param songs for each song its keys
 */
export function joinsBetween(songs: readonly (readonly KeysOfSong[])[]) {
  const keys: Key[] = [];
  const indexes = new Map<string, number>();
  const indexOf = (key: Key): number => {
    const name = writeKey(key);
    const index = indexes.get(name) ?? keys.push(key) - 1;
    indexes.set(name, index);
    return index;
  };
  const ends = songs.map((own) => own.map(({ end }) => indexOf(end)));
  const starts = songs.map((own) => own.map(({ start }) => indexOf(start)));
  const points = keys.map((): JoinPoints[] => []);
  return (from: number, fromKey: number, to: number, toKey: number): JoinPoints => {
    const [end, start] = [ends[from]?.[fromKey], starts[to]?.[toKey]];
    const [one, other] = [keys[end ?? -1], keys[start ?? -1]];
    const known = points[end ?? -1];
    if (!one || !other || !known || start === undefined) return NO_JOIN;
    return (known[start] ??= pointsBetween(one, other));
  };
}

function pointsBetween(from: Key, to: Key): JoinPoints {
  const next = joinCost(from, to, false).points;
  return { next, apart: Math.round(PRICES.joinApart * next) };
}

/**
 * What it costs to go from one song's key to the next one's.
 * @param apart something else stands between the songs
 */
export function joinCost(from: Key, to: Key, apart: boolean): OrderCost {
  const shared = commonTriads(from, to);
  const full = soundsLike(from, to) ? 0 : priceOf(shared);
  const points = apart ? Math.round(PRICES.joinApart * full) : full;
  const ways = `${sayTonic(from)} to ${sayTonic(to)}`;
  return {
    kind: 'join',
    words:
      shared === 0
        ? `${ways}: no chord is in both keys`
        : `${ways}: ${counted(shared, 'chord is', 'chords are')} in both keys`,
    points,
  };
}

function priceOf(shared: number): number {
  if (shared >= 7) return PRICES.joinRelative;
  if (shared >= 4) return PRICES.joinNear;
  return shared > 0 ? PRICES.joinSome : PRICES.joinNone;
}
