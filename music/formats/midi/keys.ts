import { keyOfSignature, sameKey, sayKey, signatureOf, type Key } from '../../pitch/key.ts';
import type { Problem } from '../../result.ts';
import { find, named, type FoundKey } from '../../score/key-finding.ts';
import { guess } from '../../score/key-profile.ts';
import type { KeyAt, Ticks, Voice } from '../../score/score.ts';
import { ticksOf } from './parts.ts';
import type { Smf } from './smf.ts';

/** A key as a file names it, or as it was guessed. */
export interface NamedKey {
  readonly at: Ticks;
  readonly key: Key;
  /** Set where it was guessed; else it comes from the file. */
  readonly guessed: FoundKey | null;
}

/** How long each pitch of the octave sounds, from C up, of notes by their numbers. */
function timeOf(notes: readonly { midi: number; at: Ticks; end: Ticks }[]): number[] {
  const time = new Array<number>(12).fill(0);
  for (const { midi, at, end } of notes) time[midi % 12] = (time[midi % 12] ?? 0) + end - at;
  return time;
}

/**
 * The keys of a file from where the song begins. Programs write C major where nobody set a key, so that alone is taken for no
 * key; then the key is guessed by the profile.
 */
export function namedKeys(
  smf: Smf,
  from: Ticks,
  notes: readonly { midi: number; at: Ticks; end: Ticks }[],
): NamedKey[] {
  const ticks = ticksOf(smf);
  const events = smf.tracks
    .flatMap(({ keys }) => keys)
    .filter(({ fifths }) => Math.abs(fifths) <= 7);
  events.sort((a, b) => a.at - b.at);
  const found: NamedKey[] = [];
  for (const { at, fifths, minor } of events) {
    const moment = Math.max(0, ticks(at) - from);
    const key = keyOfSignature(fifths, minor ? 'minor' : 'major');
    const last = found.at(-1);
    if (last?.at === moment) found[found.length - 1] = { at: moment, key, guessed: null };
    else if (!last || !sameKey(last.key, key)) found.push({ at: moment, key, guessed: null });
  }
  const isDefault = found.every(({ key }) => key.tonic === 'C' && key.mode === 'major');
  if (!isDefault && found[0]?.at === 0) return found;
  const to = isDefault ? Infinity : (found[0]?.at ?? Infinity) + from;
  const guessed = guess(timeOf(notes.filter(({ at }) => at < to)));
  return [{ at: 0, key: guessed.key, guessed }, ...(isDefault ? [] : found)];
}

/**
 * The keys of a score. Programs write a major key for every signature, so a major key of the file is sure only where the
 * end of the music agrees.
 */
export function keysOf(
  keys: readonly NamedKey[],
  voices: readonly Voice[],
  warnings: Problem[],
): KeyAt[] {
  return keys.map(({ at, key, guessed }, i) => {
    const signature = signatureOf(key);
    const entry = guessed ?? checked(key, signature, voices, at, keys[i + 1]?.at ?? Infinity);
    if (!entry.sure) warnings.push({ code: 'guess-key', message: entry.reason });
    return { at, signature, ...entry };
  });
}

function checked(
  key: Key,
  signature: number,
  voices: readonly Voice[],
  from: Ticks,
  to: Ticks,
): FoundKey {
  if (key.mode === 'minor') return named(key);
  const found = find(signature, voices, from, to);
  if (sameKey(found.key, key)) return named(key);
  const reason = `The file says ${sayKey(key)}, as programs do of every such signature. ${found.reason}`;
  // The sharps or flats are the file's; its word "major" weighs less than an end on another tonic.
  const [first, other] = found.sure ? [found.key, key] : [key, found.key];
  return { key: first, sure: false, reason, others: [other] };
}
