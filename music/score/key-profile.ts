import {
  keyOfSignature,
  keysToOffer,
  sameKey,
  sayKey,
  signatureOf,
  type Key,
} from '../pitch/key.ts';
import { midiOf, pitchClassOf } from '../pitch/pitch.ts';
import type { FoundKey } from './key-finding.ts';
import type { Ticks, Voice } from './score.ts';

/**
 * How well each of the twelve pitches was heard to fit a key, from its tonic up by semitones: Krumhansl and Kessler, "Tracing
 * the dynamic changes in perceived tonal organization in a spatial representation of musical keys", Psychological Review
 * 89 (1982), pages 334–368; as printed in Krumhansl, Cognitive Foundations of Musical Pitch (1990), page 30.
 */
export const MAJOR_PROFILE: readonly number[] = [
  6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88,
];
export const MINOR_PROFILE: readonly number[] = [
  6.33, 2.68, 3.52, 5.38, 2.6, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17,
];

export interface RankedKey {
  readonly key: Key;
  /** Pearson's correlation with the profile, −1 to 1. */
  readonly correlation: number;
}

/** How long each pitch of the octave sounds, in ticks, from C up by semitones. */
export function timeByPitch(
  voices: readonly Voice[],
  from: Ticks = 0,
  to: Ticks = Infinity,
): number[] {
  const time = new Array<number>(12).fill(0);
  for (const { notes } of voices) {
    for (const { at, length, pitches } of notes) {
      const sounding = Math.min(to, at + length) - Math.max(from, at);
      if (sounding <= 0) continue;
      for (const pitch of pitches) {
        const place = ((midiOf(pitch) % 12) + 12) % 12;
        time[place] = (time[place] ?? 0) + sounding;
      }
    }
  }
  return time;
}

/**
 * The 24 major and minor keys in their usual spellings, the most alike first (the algorithm of Krumhansl and Schmuckler:
 * correlation of the time that each pitch sounds with the profile of each key). Of equals (to
 * nine figures) the one with fewer sharps or flats comes first, then major, then the lower tonic from C up. Empty: nothing sounds, or every pitch for the same time.
 *
 * @param time twelve numbers, from C up
 */
export function rank(time: readonly number[]): RankedKey[] {
  const spread = time.some((each) => each !== time[0]);
  if (!spread) return [];
  const keys = [...keysToOffer('major'), ...keysToOffer('minor')];
  return keys
    .map((key): RankedKey => {
      const tonic = pitchClassOf(key.tonic);
      const profile = key.mode === 'major' ? MAJOR_PROFILE : MINOR_PROFILE;
      const turned = time.map((_, i) => time[(i + tonic) % 12] ?? 0);
      return { key, correlation: correlation(turned, profile) };
    })
    .sort(
      (a, b) =>
        Math.round((b.correlation - a.correlation) * 1e9) ||
        Math.abs(signatureOf(a.key)) - Math.abs(signatureOf(b.key)) ||
        a.key.mode.localeCompare(b.key.mode),
    );
}

/** The key that music is most like, said to be a guess, with the next two as what else it may be. */
export function guess(time: readonly number[]): FoundKey {
  const [first, second, third] = rank(time);
  if (!first || !second || !third) {
    const key = keyOfSignature(0, 'major');
    const reason =
      'No key is named and nothing sounds that would tell one: C major is only a beginning.';
    return { key, sure: false, reason, others: [keyOfSignature(0, 'minor')] };
  }
  const shown = ({ key, correlation }: RankedKey): string =>
    `${sayKey(key)} (${correlation.toFixed(2)} of 1)`;
  return {
    key: first.key,
    sure: false,
    reason: `No key is named. By how long each pitch sounds this is most like ${shown(first)}, then ${shown(second)}, as listeners judged keys (Krumhansl and Kessler 1982): a guess.`,
    others: [second.key, third.key].filter((key) => !sameKey(key, first.key)),
  };
}

function correlation(a: readonly number[], b: readonly number[]): number {
  const mean = (list: readonly number[]): number =>
    list.reduce((sum, each) => sum + each, 0) / list.length;
  const [meanA, meanB] = [mean(a), mean(b)];
  let [both, ofA, ofB] = [0, 0, 0];
  a.forEach((each, i) => {
    const [da, db] = [each - meanA, (b[i] ?? 0) - meanB];
    both += da * db;
    ofA += da * da;
    ofB += db * db;
  });
  return ofA === 0 || ofB === 0 ? 0 : both / Math.sqrt(ofA * ofB);
}
