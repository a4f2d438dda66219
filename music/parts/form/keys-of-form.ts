import type { Interval } from '../../pitch/interval.ts';
import { keysToOffer, type Key } from '../../pitch/key.ts';
import { pitchClassOf } from '../../pitch/pitch.ts';
import { unfold } from '../../score/form.ts';
import type { Pass, Score, Ticks } from '../../score/score.ts';
import { inForce } from '../../score/time.ts';
import { by, interval, score as transposed } from '../../score/transpose.ts';
import type { ArrangedPass, Arrangement } from '../arrangement.ts';

/** Half steps that a pass stands above its song's key; 0: in it. */
export const upOf = (pass: Pass): number => (pass as ArrangedPass).up ?? 0;

/** A key some half steps higher, lower below zero, in its usual spelling: F major and 1 is F♯ major, F♯ and 1 is G. */
export function raisedKey(key: Key, up: number): Key {
  if (up === 0) return key;
  const sounding = (((pitchClassOf(key.tonic) + up) % 12) + 12) % 12;
  return keysToOffer(key.mode).find(({ tonic }) => pitchClassOf(tonic) === sounding) ?? key;
}

/** How far that is, spelled: B major and 1 is a step of the scale, a half step wide. */
export function raisedBy(key: Key, up: number): Interval {
  return interval(key, raisedKey(key, up), up < 0 ? 'down' : 'up');
}

const WAYS = ['', 'half step', 'whole step', 'minor third', 'major third', 'fourth'] as const;

/** `up a whole step`, `down a half step`; of 0 nothing. Beyond a fourth in half steps: `up 6 half steps`. */
export function sayUp(up: number): string {
  if (up === 0) return '';
  const way = WAYS[Math.abs(up)];
  const far = way === undefined ? `${Math.abs(up)} half steps` : `a ${way}`;
  return `${up > 0 ? 'up' : 'down'} ${far}`;
}

/** The keys alone, without their notes and what was said of them, so that moving them costs nothing. */
const bare = (score: Score): Score => ({
  ...score,
  keys: score.keys.map((each) => ({ ...each, sure: true, reason: '', others: [] })),
  voices: [],
  chords: [],
});

/** The key at a moment of a pass, as it is printed: its whole section is moved by one interval. */
function keyIn(score: Score, pass: Pass, at: Ticks): Key {
  const from = score.sections.find(({ id }) => id === pass.section)?.from ?? 0;
  const there = inForce(score.keys, at);
  const home = inForce(score.keys, from).key;
  const moved = by({ ...score, keys: [{ ...there, at: 0 }] }, raisedBy(home, upOf(pass)));
  return moved.keys[0]?.key ?? there.key;
}

function playedKeys(arrangement: Pick<Arrangement, 'key' | 'form'>, score: Score): Key[] {
  const song = transposed(bare(score), arrangement.key);
  return unfold({ ...song, form: arrangement.form ?? song.form }).flatMap(({ pass, from, to }) => [
    keyIn(song, pass, from),
    keyIn(song, pass, to - 1),
  ]);
}

/**
 * The key that the singing begins in, for whoever leads over to this song: that of the first pass of the form, raised as
 * that pass is. A song without music is in the arrangement's key.
 * @param arrangement its form names only sections that the song has
 */
export function keyAtStart(arrangement: Pick<Arrangement, 'key' | 'form'>, score: Score): Key {
  return playedKeys(arrangement, score)[0] ?? arrangement.key;
}

/** The same for the end: the key that the last pass of the form ends in. */
export function keyAtEnd(arrangement: Pick<Arrangement, 'key' | 'form'>, score: Score): Key {
  return playedKeys(arrangement, score).at(-1) ?? arrangement.key;
}
