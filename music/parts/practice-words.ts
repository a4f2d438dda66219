import { rank, type PlayedMove, type RankedMove } from '../hand/difficulty.ts';
import { ENGLISH, type Says } from '../pitch/says.ts';
import type { Score, Ticks } from '../score/score.ts';
import { barAt, countedBeat, countedTempo, meterAt, tempoAt } from '../score/time.ts';
import type { Change } from './changes.ts';

/** More than this is no longer a place to begin. */
const MOST = 2;

/**
 * The changes of the song from the hardest to the easiest, each once.
 * @param from where the song itself begins, after a written-out introduction
 */
export function hardestFirst(
  score: Score,
  changes: readonly Change[],
  from: Ticks,
  says: Says = ENGLISH,
): RankedMove[] {
  const moves = changes
    .filter(({ before }) => before.from >= from)
    .map(({ before, after, time }): PlayedMove => {
      const meter = meterAt(score, before.from);
      const tempo = tempoAt(score, before.from);
      return {
        from: before.right,
        to: after.right,
        fromChord: says.chord(before.chord),
        toChord: says.chord(after.chord),
        bar: barAt(score, after.from).number,
        beats: time / countedBeat(meter, tempo),
        tempo: countedTempo(meter, tempo),
      };
    });
  return rank(moves, score.tempo, says);
}

/**
 * What to practise first: the hardest changes of the song with their bars, time and way, the hardest first (common
 * practice: two neighbouring chords, back and forth, the hardest change first).
 */
export function practice(hardest: readonly RankedMove[]): string[] {
  return hardest
    .slice(0, MOST)
    .map(({ sentence }, place) =>
      place === 0
        ? `Practise first: ${sentence} Back and forth between the two until the hand knows the way.`
        : `Then: ${sentence}`,
    );
}
