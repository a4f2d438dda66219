import { ENGLISH, type Says } from '../pitch/says.ts';
import { say } from './move-words.ts';
import { ofMove, sayTime, secondsOf, type MoveDifficulty, type Pace } from './move-difficulty.ts';
import type { Shape } from './shape.ts';

/** A change of shape where it happens in a song. */
export interface PlayedMove {
  readonly from: Shape;
  readonly to: Shape;
  /** Names of the chords, as the player reads them. */
  readonly fromChord: string;
  readonly toChord: string;
  /** The bar in which the new chord begins. */
  readonly bar: number;
  /** Beats of the tempo that the first shape lasts. */
  readonly beats: number;
  /** The tempo there; missing: that of the song. */
  readonly tempo?: Pace;
}

export interface RankedMove extends MoveDifficulty {
  /** The occurrence with the least time. */
  readonly move: PlayedMove;
  /** Every bar in which it happens, in order, each once. */
  readonly bars: readonly number[];
  /** `Em to C, bars 3 and 7, 2 beats at 80 a minute: 1.5 seconds. Thumb stays; …` */
  readonly sentence: string;
}

/**
 * The moves of a song from the hardest to the easiest, each once: the same chords on the same keys
 * are one move, as hard as where it has the least time, at the tempo there. Of equals the one that comes first. Moves
 * that move nothing are left out.
 */
export function rank(
  moves: readonly PlayedMove[],
  tempo: Pace,
  says: Says = ENGLISH,
): RankedMove[] {
  const groups = new Map<string, PlayedMove[]>();
  for (const move of moves) {
    const name = JSON.stringify([move.fromChord, move.toChord, move.from, move.to]);
    groups.set(name, [...(groups.get(name) ?? []), move]);
  }
  return [...groups.values()]
    .map((group) => rankedMove(group, tempo, says))
    .filter((ranked) => ranked.total > 0)
    .sort((a, b) => b.total - a.total);
}

function rankedMove(group: readonly PlayedMove[], tempo: Pace, says: Says): RankedMove {
  const paceOf = (each: PlayedMove): Pace => (each.tempo === undefined ? tempo : each.tempo);
  // Where a tempo is not known beats are all there is to compare.
  const isTimed = group.every((each) => paceOf(each) !== null);
  const timeOf = (each: PlayedMove): number => {
    const pace = paceOf(each);
    return isTimed && pace !== null ? secondsOf(each.beats, pace) : each.beats;
  };
  const move = group.reduce((least, each) => (timeOf(each) < timeOf(least) ? each : least));
  const pace = paceOf(move);
  const bars = [...new Set(group.map((each) => each.bar))];
  const words = say(move.from, move.to, says);
  const sentence = `${move.fromChord} to ${move.toChord}, ${sayBars(bars)}, ${sayTime(move.beats, pace)}. ${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
  return { ...ofMove(move.from, move.to, move.beats, pace), move, bars, sentence };
}

/**
 * `bar 3`, `bars 3 and 7`, `bars 3, 7 and 11`, `bars 3, 7, 11 and 5 more`; the pickup has no
 * number.
 */
function sayBars(bars: readonly number[]): string {
  const names = bars.map((bar) => (bar === 0 ? 'the pickup' : String(bar)));
  const shown = names.length > 4 ? [...names.slice(0, 3), `${names.length - 3} more`] : names;
  const list =
    shown.length < 2
      ? shown.join('')
      : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1) ?? ''}`;
  if (bars.length === 1) return bars[0] === 0 ? 'in the pickup' : `bar ${list}`;
  return `bars ${list}`;
}
