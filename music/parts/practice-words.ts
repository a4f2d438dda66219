import { rank, type PlayedMove } from '../hand/difficulty.ts';
import { say as sayChord } from '../pitch/chord-symbol.ts';
import type { Score, Ticks } from '../score/score.ts';
import { barAt, feltBeat, meterAt } from '../score/time.ts';
import type { HandsPlan } from './hands-plan.ts';

/** More than this is no longer a place to begin. */
const MOST = 2;

/**
 * What to practise first: the hardest changes of the song with their bars, time and way, the hardest first (common
 * practice: two neighbouring chords, back and forth, the hardest change first).
 * @param from where the song itself begins, after a written-out introduction
 */
export function practice(score: Score, plan: HandsPlan, from: Ticks): string[] {
  const moves = plan.moves.flatMap((move, i): PlayedMove[] => {
    const [before, after] = [plan.held[i], plan.held[i + 1]];
    if (!before || !after || before.from < from) return [];
    const beat = score.tempo?.beat ?? feltBeat(meterAt(score, before.from));
    return [
      {
        from: move.from,
        to: move.to,
        fromChord: sayChord(before.chord),
        toChord: sayChord(after.chord),
        bar: barAt(score, after.from).number,
        beats: (after.from - before.from) / beat,
      },
    ];
  });
  return rank(moves, score.tempo)
    .slice(0, MOST)
    .map(({ sentence }, place) =>
      place === 0
        ? `Practise first: ${sentence} Back and forth between the two until the hand knows the way.`
        : `Then: ${sentence}`,
    );
}
