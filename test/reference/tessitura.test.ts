import { describe, expect, it } from 'vitest';
import { QUARTER, Pitches, Tessitura, Transpose, type Score } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { PRINTINGS } from './tables/hymn-printings.ts';
import { TUNES } from './tables/hymn-tessitura.ts';

/**
 * Ranges and times of the tunes against `tables/hymn-tessitura.ts` (Open Hymnal Project, read independently), the same
 * tunes in other printings against `tables/hymn-printings.ts`.
 */
function found(score: Score): Tessitura.SongTessitura {
  const tessitura = Tessitura.of(score);
  if (!tessitura) throw new Error('nothing is sung');
  return tessitura;
}

/** `35/2` quarters in ticks. */
function ticks(fraction: string): number {
  const [over = 0, under = 1] = fraction.split('/').map(Number);
  return (over * QUARTER) / under;
}

describe.each(TUNES)('$tune', (facts) => {
  const score = hymn(facts.file);
  const tessitura = found(score);

  it(`goes from ${facts.low} to ${facts.high}`, () => {
    expect([tessitura.low, tessitura.high]).toEqual([facts.low, facts.high]);
  });

  it(`has its quartiles at ${facts.quartiles.join(', ')} and its mean at ${facts.mean}`, () => {
    const { q1, median, q3, mean } = tessitura;
    expect([q1, median, q3].map(Pitches.midiOf)).toEqual(facts.quartiles);
    expect(Math.abs(mean - facts.mean)).toBeLessThanOrEqual(0.01);
  });

  it('is at each pitch exactly as long as it was counted', () => {
    const times = Object.fromEntries(tessitura.pitches.map((each) => [each.pitch, each.ticks]));
    const counted = Object.entries(facts.beatsByPitch).map(([pitch, beats]) => [
      pitch,
      ticks(beats),
    ]);
    expect(times).toEqual(Object.fromEntries(counted));
    expect(tessitura.beats).toBe(facts.beats);
  });
});

describe('the same tune in another printing', () => {
  it.each(PRINTINGS)('$tune in $to', ({ file, to, low, high, mean }) => {
    const moved = found(Transpose.score(hymn(file), { tonic: to, mode: 'major' }));
    expect([moved.low, moved.high]).toEqual([low, high]);
    expect(Math.abs(moved.mean - mean)).toBeLessThanOrEqual(0.01);
  });
});
