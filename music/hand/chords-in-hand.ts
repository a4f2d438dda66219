import { failure, type Failure, type Problem } from '../result.ts';
import type { Chord } from '../pitch/chord.ts';
import { read, say, write } from '../pitch/chord-symbol.ts';
import { sayNote } from '../pitch/key.ts';
import { noteOnKey } from './note-words.ts';
import { candidatesOf, type Bounds, type Candidates } from './candidates.ts';
import { tonesInHand } from './chord-in-hand.ts';

/**
 * The candidates of every chord, in order; chords that put the same notes into the hand share one object. A failure names
 * every chord that cannot be read or has no shape within bounds, by its place (from 1) and its name.
 */
export function chordsInHand(
  chords: readonly (string | Chord)[],
  bounds: Bounds,
  most?: number,
): Candidates[] | Failure {
  const byInput = new Map<string | Chord, Candidates | readonly Problem[]>();
  const byTones = new Map<string, Candidates | readonly Problem[]>();
  const inHand: Candidates[] = [];
  const problems: Problem[] = [];
  for (let i = 0; i < chords.length; i++) {
    const chord = chords[i] as string | Chord;
    let found = byInput.get(chord);
    if (!found) byInput.set(chord, (found = voice(chord, bounds, most, byTones)));
    if ('count' in found) inHand.push(found);
    else {
      const name = typeof chord === 'string' ? chord : write(chord);
      for (const { code, message } of found)
        problems.push({ code, message: `Chord ${i + 1}, ${name}: ${message}` });
    }
  }
  return problems.length > 0 ? failure(...problems) : inHand;
}

function voice(
  chord: string | Chord,
  bounds: Bounds,
  most: number | undefined,
  byTones: Map<string, Candidates | readonly Problem[]>,
): Candidates | readonly Problem[] {
  const result = typeof chord === 'string' ? read(chord) : null;
  if (result && !result.ok) return result.problems;
  const value = result ? result.value : (chord as Chord);
  const tones = tonesInHand(value, most);
  const key = tones.join(' ');
  let found = byTones.get(key);
  if (!found) byTones.set(key, (found = shapesOrProblem(value, tones, bounds)));
  return found;
}

function shapesOrProblem(
  chord: Chord,
  tones: readonly string[],
  bounds: Bounds,
): Candidates | readonly Problem[] {
  if (tones.length === 0)
    return [{ code: 'chord-without-notes', message: 'there is nothing to hold in it.' }];
  const candidates = candidatesOf(tones, bounds);
  if (candidates.count > 0) return candidates;
  const range = `${noteOnKey(bounds.low)} and ${noteOnKey(bounds.high)}`;
  return [
    {
      code: 'no-shape',
      message: `${tones.map(sayNote).join(' ')} (${say(chord)}) cannot be held between ${range} within ${bounds.reach} semitones.`,
    },
  ];
}
