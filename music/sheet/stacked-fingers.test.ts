import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { makeEngraver } from '#test/support/verovio.ts';
import { ofShape } from '../hand/fingering.ts';
import type { Hand } from '../hand/shape.ts';
import { LETTERS, midiOf } from '../pitch/pitch.ts';
import type { Score, Voice } from '../score/score.ts';
import { engrave } from './engrave.ts';
import type { Engraver } from './engraver.ts';

type Shape = readonly string[];

/** Two to four notes of the scale within an octave, two of them a second apart, from C3 on. */
const withSecond = fc
  .tuple(fc.integer({ min: 0, max: 13 }), fc.integer({ min: 0, max: 5 }), fc.subarray([3, 4, 5, 6]))
  .map(([bottom, second, more]): Shape => {
    const steps = [...new Set([0, second, second + 1, ...more])].sort((a, b) => a - b).slice(0, 5);
    const names = steps.map((step) => {
      const place = bottom + step;
      return `${LETTERS[place % 7] ?? ''}${3 + Math.floor(place / 7)}`;
    });
    return names.filter((name) => midiOf(name) - midiOf(names[0] ?? '') <= 12);
  });

/** A bar for each shape, held by one hand; the other hand and the singer have one note. */
function songOf(shapes: readonly Shape[], hand: Hand): Score {
  const held = shapes.map((shape) => `${shape.join('+')}:4`).join(' | ');
  const one = (note: string) => shapes.map(() => `${note}:4`).join(' | ');
  const voices = { tune: one('C5'), right: one('C5'), left: one('C3'), [hand]: held };
  const score = buildScore({ key: 'C', meter: '4/4', voices });
  const laid = score.voices.map((voice, i): Voice => {
    const notes = voice.notes.map((note) =>
      voice.id === hand ? { ...note, fingers: ofShape(note.pitches, hand) } : note,
    );
    const own = i === 0 ? {} : ({ group: 'Keyboard', clef: i === 2 ? 'bass' : 'treble' } as const);
    return { ...voice, ...own, staff: i + 1, notes };
  });
  return { ...score, voices: laid };
}

const FINGER = /<g class="fing" font-size="(\d+)"><text x="(\d+)" y="(-?\d+)"[^>]*>(\d)<\/text>/g;
/** How high the figures are, of their size: the bounding boxes of 1 to 5 in Source Serif 4 Italic. */
const HIGH = 0.66;

describe('The fingers of a chord with a second', async () => {
  const engraver = (await makeEngraver()) as unknown as Engraver;

  /** Figures of each bar from the top down, as `[x, y, finger, size]`. */
  function figures(shapes: readonly Shape[], hand: Hand): number[][][] {
    const page = { width: 1180, textScale: 1, verse: 1 } as const;
    const { systems } = engrave(engraver, { score: songOf(shapes, hand), page });
    const bars = systems.flatMap(({ svg }) => svg.split('class="measure"').slice(1));
    return bars.map((bar) =>
      [...bar.matchAll(FINGER)]
        .map(([, size, x, y, finger]) => [Number(x), Number(y), Number(finger), Number(size)])
        .sort(([, a = 0], [, b = 0]) => a - b),
    );
  }

  function expectStacked(shapes: readonly Shape[], hand: Hand): void {
    const drawn = figures(shapes, hand);
    expect(drawn).toHaveLength(shapes.length);
    shapes.forEach((shape, i) => {
      const own = drawn[i] ?? [];
      const named = `${hand} ${shape.join(' ')}`;
      expect(
        own.map(([, , finger]) => finger),
        named,
      ).toEqual(ofShape(shape, hand).reverse());
      expect(new Set(own.map(([x]) => x)).size, named).toBe(1);
      const rows = own.slice(1).map(([, y = 0], k) => y - (own[k]?.[1] ?? 0));
      // They do not touch, having no descenders: at least a tenth of their height is between them.
      const size = own[0]?.[3] ?? 0;
      for (const row of rows) expect(row, named).toBeGreaterThan(1.1 * HIGH * size);
    });
  }

  it('stand one over another, the highest note on top: an E7 without its fifth is 5, 4, 1', () => {
    expectStacked([['G#3', 'D4', 'E4']], 'right');
    expect(figures([['G#3', 'D4', 'E4']], 'right')[0]?.map(([, , finger]) => finger)).toEqual([5, 4, 1]); // prettier-ignore
  });

  it.each(['right', 'left'] as const)('stand so in any shape of the %s hand', (hand) => {
    fc.assert(
      fc.property(fc.array(withSecond, { minLength: 6, maxLength: 12 }), (shapes) => {
        expectStacked(shapes, hand);
      }),
      { numRuns: 8 },
    );
  });
});
