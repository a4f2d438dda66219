import { pitchClassesOf, sameChord } from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import { chords as readChords, type Density } from '../score/reduction.ts';
import type { ChordAt, Score, Ticks } from '../score/score.ts';
import { feltBeat, meterAt } from '../score/time.ts';
import type { Player } from './arrangement.ts';
import { bassRungFor, rungsFor } from './rungs.ts';

/** From the thinnest on; `alone` is a set of its own. */
const NESTED: readonly Density[] = ['bar', 'half bar', 'beat'];

/**
 * How thin a player's chords are at most: the first two rungs play the arrangement's density; the third rung of a hand
 * at the keys at least `half bar`; the fourth, and the third of a bass, `beat`. The fullest rung that a player has
 * anywhere in the song decides for the whole sheet, so that one chord is not written twice. `alone` holds for all.
 */
export function densityFor(
  own: Density,
  { role, level, rungs }: Pick<Player, 'role' | 'level' | 'rungs'>,
): Density {
  const usual = rungsFor(level);
  const { sections, ...whole } = rungs ?? {};
  const everywhere = [
    { bass: bassRungFor(level), ...usual, ...whole },
    ...Object.values(sections ?? {}),
  ];
  const least = everywhere.map(({ right = 1, left = 1, bass = 1 }): Density => {
    const step = role === 'bass' ? (bass === 3 ? 4 : 1) : Math.max(right, left);
    return step === 4 ? 'beat' : step === 3 ? 'half bar' : 'bar';
  });
  return [own, ...least].reduce((fullest, each) =>
    NESTED.indexOf(fullest) >= 0 && NESTED.indexOf(each) > NESTED.indexOf(fullest) ? each : fullest,
  );
}

/**
 * The chords of a density for who plays beside players of thinner ones, down to the arrangement's own. Where a chord of
 * the fuller set would sound a half step beside the chord that the others hold for more than a felt beat, and neither
 * chord has both notes, the thinner chord is played there by all. Every other chord is that of the fuller set.
 */
export function chordsBeside(score: Score, own: Density, density: Density): ChordAt[] {
  const read = (each: Density) => readChords(score, { density: each }).chords;
  const [from, to] = [NESTED.indexOf(own), NESTED.indexOf(density)];
  if (from < 0 || to <= from) return read(density);
  const sets: ChordAt[][] = [];
  for (const each of NESTED.slice(from, to + 1)) {
    sets.push(sets.reduceRight((chords, held) => reconciled(score, chords, held), read(each)));
  }
  return sets.at(-1) ?? [];
}

/** A stretch in which both sets have one chord each. */
interface Stretch {
  readonly at: Ticks;
  readonly end: Ticks;
  readonly mine: ChordAt;
  readonly held: ChordAt;
}

function reconciled(score: Score, fuller: readonly ChordAt[], held: readonly ChordAt[]): ChordAt[] {
  const stretches = fuller.flatMap((mine): Stretch[] =>
    held.flatMap((each) => {
      const at = Math.max(mine.at, each.at);
      const end = Math.min(mine.at + mine.length, each.at + each.length);
      return at < end ? [{ at, end, mine, held: each }] : [];
    }),
  );
  const chords: ChordAt[] = [];
  for (let place = 0; place < stretches.length;) {
    const first = stretches[place] as Stretch;
    const rest = stretches.slice(place);
    const after = rest.findIndex((each) => !clashes(each));
    const run = rest.slice(0, Math.max(1, after < 0 ? rest.length : after));
    const length = (run.at(-1) as Stretch).end - first.at;
    const isLong = clashes(first) && length > feltBeat(meterAt(score, first.at));
    for (const { at, end, mine, held: thin } of run) {
      chords.push({ ...(isLong ? thin : mine), at, length: end - at });
    }
    place += run.length;
  }
  return joined(chords);
}

/** Neighbours of one chord that was found become one, and a written chord that was cut becomes whole again. */
function joined(chords: readonly ChordAt[]): ChordAt[] {
  const result: ChordAt[] = [];
  for (const each of chords) {
    const last = result.at(-1);
    const same = last?.chord && each.chord ? sameChord(last.chord, each.chord) : last?.chord === each.chord; // prettier-ignore
    if (last && same && !last.guess === !each.guess) {
      result[result.length - 1] = { ...last, length: each.at + each.length - last.at };
    } else result.push(each);
  }
  return result;
}

/** Whether a note of one chord is a half step from a note of the other, and neither chord has both. */
function clashes({ mine, held }: Stretch): boolean {
  const [one, other] = [classesOf(mine.chord), classesOf(held.chord)];
  return one.some((a) =>
    other.some((b) => {
      const isHalfStep = [1, 11].includes((a - b + 12) % 12);
      return isHalfStep && !(one.includes(b) || other.includes(a));
    }),
  );
}

function classesOf(chord: Chord | null): number[] {
  return chord ? pitchClassesOf(chord) : [];
}
