import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { Keys, Pitches } from '#music';
import { OPEN_STRINGS } from '../../music/hand/bass-places.ts';
import { keyForBass } from '../../music/hand/key-for-bass.ts';

const NOTES = Keys.keysToOffer('major').map(({ tonic }) => tonic);
const line = (notes: readonly string[]) => notes.map((note) => ({ note, time: 1 }));

// Standard tuning E1 A1 D2 G2, with five strings B0 below (Wikipedia, Bass guitar tuning).
describe('open strings of a bass', () => {
  it('are tuned in fourths', () => {
    expect(OPEN_STRINGS[4].map(Pitches.midiOf)).toEqual([28, 33, 38, 43]);
    expect(OPEN_STRINGS[5].map(Pitches.midiOf)).toEqual([23, 28, 33, 38, 43]);
  });

  it('are E, A and D where a note stands alone, with five strings E, A and B', () => {
    const open = (strings: 4 | 5) =>
      NOTES.filter((note) => keyForBass(line([note]), strings).openTime > 0);
    // The deepest place counts (see `placeBass`): G1 on the E string, and with five strings D1 on the B string.
    expect(open(4)).toEqual(['D', 'E', 'A']);
    expect(open(5)).toEqual(['E', 'A', 'B']);
  });

  it('count by time', () => {
    const found = keyForBass(
      [
        { note: 'A', time: 3 },
        { note: 'F#', time: 1 },
      ],
      4,
    );
    expect(found).toMatchObject({ open: ['A'], openTime: 3, time: 4, below: [] });
  });

  it('what five strings have below E1 stands an octave up on four', () => {
    expect(keyForBass(line(['C', 'E']), 4).below).toEqual(['C']);
    expect(keyForBass(line(['C', 'E']), 5).below).toEqual([]);
  });
});

describe('a line on the neck, against every choice of octaves', () => {
  it('open strings and wide ways are those of the best places in first position', () => {
    const few = fc.array(fc.constantFrom(...NOTES), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(few, fc.constantFrom(4 as const, 5 as const), (notes, strings) => {
        const found = keyForBass(line(notes), strings);
        const opens = OPEN_STRINGS[strings].map(Pitches.midiOf);
        const lowest = opens[0] ?? 0;
        const classes = [...new Set(notes.map(Pitches.pitchClassOf))];
        const ways = classes.reduce<number[][]>(
          (all, one) =>
            all.flatMap((way) =>
              [0, 12, 24]
                .map((up) => lowest + ((one - lowest + 120) % 12) + up)
                // First position ends at the fourth fret of the highest string.
                .filter((midi) => midi <= 47)
                .map((midi) => [...way, midi]),
            ),
          [[]],
        );
        const judged = ways.map((way) => {
          const pitches = notes.map(
            (note) => way[classes.indexOf(Pitches.pitchClassOf(note))] ?? 0,
          );
          const steps = pitches.slice(1).map((pitch, i) => Math.abs(pitch - (pitches[i] ?? 0)));
          const over = steps.map((step) => Math.max(0, step - 7));
          const sum = (list: readonly number[]) => list.reduce((a, b) => a + b, 0);
          const cost = [Math.max(0, ...over), sum(over), sum(way), sum(steps)];
          return { pitches, steps, cost };
        });
        const compare = (a: readonly number[], b: readonly number[]) =>
          a.map((value, i) => value - (b[i] ?? 0)).find((difference) => difference !== 0) ?? 0;
        judged.sort((a, b) => compare(a.cost, b.cost));
        const best = judged.filter(({ cost }) => compare(cost, judged[0]?.cost ?? []) === 0);
        const figures = best.map(({ pitches, steps }) => [
          pitches.filter((pitch) => opens.includes(pitch)).length,
          steps.filter((step) => step > 7).length,
        ]);
        expect(figures).toContainEqual([found.openTime, found.wide]);
      }),
    );
  });
});
