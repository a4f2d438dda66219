import { describe, expect, it } from 'vitest';
import { Quantise, Time, type MeterAt } from '#music';
import { mulberry32 } from '#test/support/chance.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

/**
 * Tunes of the hymns as if a hand had played them: every beginning off by a normal deviation. That of amateurs who tap along is
 * about 25 ms, of trained players about 10 (order of magnitude from memory); a beat at 100 a minute lasts 600 ms.
 */
const BEAT_MS = 600;

function normal(chance: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());
}

function played(deviation: number): { right: number; all: number } {
  let [right, all] = [0, 0];
  HYMN_FILES.forEach((file, n) => {
    const score = hymn(file);
    const chance = mulberry32(900 + n);
    const [first] = score.meters as readonly [MeterAt];
    if (first.meter.beats === null) return;
    const notes = Time.soundingNotes(Time.melodyOf(score));
    const start = score.bars[0]?.number === 0 ? (score.bars[1]?.at ?? 0) : 0;
    const beatTicks = Time.feltBeat(first.meter);
    const ms = (moment: number): number => ((moment - start) / beatTicks) * BEAT_MS;
    const hand = notes.map(({ at, length }) => {
      const begin = ms(at) + normal(chance) * deviation;
      return { at: begin, end: begin + (length / beatTicks) * BEAT_MS * 0.92 };
    });
    const grid = Quantise.gridOf(first.meter);
    const found = Quantise.notes(hand, { beat: BEAT_MS, beatTicks, grid }).notes;
    notes.forEach(({ at }, i) => {
      all += 1;
      if (found.find(({ index }) => index === i)?.at === at - start) right += 1;
    });
  });
  return { right, all };
}

describe('Tunes played a little unevenly', () => {
  // Shares measured on 28 November 2026; a better grid may raise them.
  it.each([
    [0, 1],
    [10, 0.999],
    [25, 0.995],
    [40, 0.95],
  ])('with %i ms: at least %f of the notes stand where they were written', (deviation, share) => {
    const { right, all } = played(deviation);
    expect(all).toBeGreaterThan(700);
    expect(right / all).toBeGreaterThanOrEqual(share);
  });
});
