import { sameKey, type Key } from '../../pitch/key.ts';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import { passesOf } from '../../score/form.ts';
import type { Bar, Score } from '../../score/score.ts';
import { barAt, keyAt } from '../../score/time.ts';
import { sungSections, type SungNote } from '../../voice/sung.ts';

/** A leap as it is sung: two notes, and the bar of the second. */
export interface Leap {
  readonly from: PitchName;
  readonly to: PitchName;
  readonly bar: Bar;
}

/** A minor sixth, in half steps. */
const SIXTH = 8;

/**
 * The leap of a sixth or more with which a section begins: from its first note to the next other one, or else into its
 * first note from the last one that is sung before it, in the order of the form. null: none.
 */
export function leapInto(score: Score, section: string): Leap | null {
  const sung = sungSections(score);
  const notesOf = (id: string): readonly SungNote[] =>
    sung.find((each) => each.id === id)?.notes ?? [];
  const notes = notesOf(section);
  const [first] = notes;
  if (!first) return null;
  const second = notes.find(({ midi }) => midi !== first.midi);
  const inside = second ? leap(score, first, second) : null;
  if (inside) return inside;
  const passes = passesOf(score).filter((pass) => notesOf(pass.section.id).length > 0);
  for (const [i, pass] of passes.entries()) {
    if (pass.section.id !== section) continue;
    const before = notesOf(passes[i - 1]?.section.id ?? '').at(-1);
    const into = before ? leap(score, before, first) : null;
    if (into) return into;
  }
  return null;
}

/**
 * The key in which a section begins where that is another than the one sung before it, in the order of the form; null:
 * none is.
 */
export function newKeyOf(score: Score, section: string): Key | null {
  const passes = passesOf(score);
  for (const [i, pass] of passes.entries()) {
    const before = passes[i - 1];
    if (pass.section.id !== section || !before) continue;
    const now = keyAt(score, pass.section.from).key;
    if (!sameKey(now, keyAt(score, before.section.to - 1).key)) return now;
  }
  return null;
}

function leap(score: Score, from: SungNote, to: SungNote): Leap | null {
  const isWide = Math.abs(midiOf(to.pitch) - midiOf(from.pitch)) >= SIXTH;
  return isWide ? { from: from.pitch, to: to.pitch, bar: barAt(score, to.at) } : null;
}
