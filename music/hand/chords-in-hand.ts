import { failure, type Failure, type Problem } from '../result.ts';
import type { Chord } from '../pitch/chord.ts';
import { read, say, write } from '../pitch/chord-symbol.ts';
import { sayNote } from '../pitch/key.ts';
import type { NoteName } from '../pitch/pitch.ts';
import { candidatesOf, type Bounds, type Candidates } from './candidates.ts';
import { tonesInHand } from './chord-in-hand.ts';
import { memory, type Memory } from './memory.ts';
import { noteOnKey } from './note-words.ts';

type Found = Candidates | readonly Problem[];

/**
 * What is known of chords within one choice of bounds: by symbol, and by the notes they put into
 * the hand.
 */
interface Known {
  readonly bySymbol: Memory<string, Found>;
  readonly byTones: Memory<string, Candidates>;
}

const KNOWN = memory<string, Known>(24);

/**
 * The candidates of every chord, in order; chords that put the same notes into the hand share one
 * object. A failure names every chord that cannot be read or has no shape within bounds, by its
 * place (from 1) and its name.
 */
export function chordsInHand(
  chords: readonly (string | Chord)[],
  bounds: Bounds,
  most?: number | readonly number[],
): Candidates[] | Failure {
  const inHand: Candidates[] = [];
  const problems: Problem[] = [];
  const lookUps = new Map<number | undefined, (chord: string | Chord) => Found>();
  for (let i = 0; i < chords.length; i++) {
    const chord = chords[i] as string | Chord;
    const here = typeof most === 'object' ? most[i] : most;
    let find = lookUps.get(here);
    if (!find) lookUps.set(here, (find = finder(bounds, here)));
    const found = find(chord);
    if ('count' in found) inHand.push(found);
    else {
      const name = typeof chord === 'string' ? chord : write(chord);
      for (const { code, message } of found)
        problems.push({ code, message: `Chord ${i + 1}, ${name}: ${message}` });
    }
  }
  return problems.length > 0 ? failure(...problems) : inHand;
}

/** Finds chords within bounds, the same object's shapes only once. */
function finder(bounds: Bounds, most: number | undefined): (chord: string | Chord) => Found {
  const known = KNOWN.recall(`${bounds.low} ${bounds.high} ${bounds.reach} ${most ?? ''}`, () => ({
    bySymbol: memory(400),
    byTones: memory(400),
  }));
  const found = new Map<string | Chord, Found>();
  return (chord) => {
    let here = found.get(chord);
    if (!here) {
      const symbol = typeof chord === 'string' ? chord : write(chord);
      here = known.bySymbol.recall(symbol, () => lookUp(chord, bounds, most, known));
      found.set(chord, here);
    }
    return here;
  };
}

function lookUp(
  chord: string | Chord,
  bounds: Bounds,
  most: number | undefined,
  known: Known,
): Found {
  const result = typeof chord === 'string' ? read(chord) : null;
  if (result && !result.ok) return result.problems;
  const value = result ? result.value : (chord as Chord);
  const tones = tonesInHand(value, most);
  if (tones.length === 0)
    return [{ code: 'chord-without-notes', message: 'there is nothing to hold in it.' }];
  const candidates = known.byTones.recall(tones.join(' '), () => candidatesOf(tones, bounds));
  return candidates.count > 0 ? candidates : [noShape(value, tones, bounds)];
}

function noShape(chord: Chord, tones: readonly NoteName[], bounds: Bounds): Problem {
  const range = `${noteOnKey(bounds.low)} and ${noteOnKey(bounds.high)}`;
  return {
    code: 'no-shape',
    message: `${tones.map(sayNote).join(' ')} (${say(chord)}) cannot be held between ${range} within ${bounds.reach} semitones.`,
  };
}
