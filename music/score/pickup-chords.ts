import type { ChordAt, Score, Span } from './score.ts';
import { isPickup } from './time.ts';

/** The pickups: bars without a number right before bar 1, also where a verse is written out again. */
function pickups({ bars }: Pick<Score, 'bars'>): Span[] {
  return bars
    .filter((bar, i) => isPickup(bar) && bars[i + 1]?.number === 1)
    .map(({ at, length }) => ({ from: at, to: at + length }));
}

/**
 * The chords as they are played round a pickup, for every part and sheet alike. The singers sing it alone (common
 * practice: the first chord falls on beat one, on the stressed word), so a chord that was found in its voices begins
 * with bar 1. A chord that a person wrote over it was meant: it is played where it stands.
 */
export function roundPickups(score: Pick<Score, 'bars' | 'chords'>): ChordAt[] {
  const silent = pickups(score);
  return score.chords.flatMap((entry) =>
    entry.guess
      ? without(entry, silent).map(({ from, to }) => ({ ...entry, at: from, length: to - from }))
      : [entry],
  );
}

function without({ at, length }: ChordAt, holes: readonly Span[]): Span[] {
  let left: Span[] = [{ from: at, to: at + length }];
  for (const hole of holes) {
    left = left.flatMap(({ from, to }) =>
      hole.to <= from || hole.from >= to
        ? [{ from, to }]
        : [
            { from, to: hole.from },
            { from: hole.to, to },
          ].filter((span) => span.to > span.from),
    );
  }
  return left;
}
