import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { bestEnds, linePrice, syllablesOf, unevenPrice } from './hymn-meter/lines.ts';
import { nameOf } from './hymn-meter/names.ts';
import type { Place } from './hymn-meter/places.ts';
import { of } from './hymn-meter.ts';
import type { Score } from './score.ts';

/** A tune of quarters, a long note at the end of each line: `[8, 6]`. */
function tune(lines: readonly number[]): string {
  const line = (count: number) => [...Array<string>(count - 1).fill('G4'), 'G4:3'].join(' ');
  return lines.map(line).join(' ');
}

/** Nonsense of so many syllables a line, with stops and capitals: `[8, 6]`. */
function words(lines: readonly number[]): string {
  return lines.map((count) => ['Tra', ...Array<string>(count - 2).fill('la'), 'la,'].join(' ')).join(' '); // prettier-ignore
}

const song = (lines: readonly number[], verses: readonly string[]): Score =>
  buildScore({ key: 'G', meter: 'none', voices: { S: tune(lines) }, words: verses });

describe('The hymn meter', () => {
  it.each([
    ['8.6.8.6', 'CM'],
    ['8.8.8.8', 'LM'],
    ['6.6.8.6', 'SM'],
    ['8.6.8.6.8.6.8.6', 'CMD'],
    ['8.8.8.8.8.8.8.8', 'LMD'],
    ['6.6.8.6.6.6.8.6', 'SMD'],
    ['8.8.6.8.8.6', 'CPM'],
    ['6.6.6.6.8.8', 'HM'],
    ['8.6.8.8.6', 'CME'],
    ['8.7.8.7.8.7.8.7', '8.7.8.7 D'],
    ['11.11.11.11', null],
    ['7.6.7.6', null],
  ])('%s is called %s', (figures, name) => {
    const lines = figures.split('.').map(Number);
    expect(nameOf(lines)).toBe(name);
    expect(of(song(lines, [words(lines), words(lines)]))).toMatchObject({ lines, meter: figures, name }); // prettier-ignore
  });

  it('counts syllables and not notes: what is held is no new one', () => {
    const held = song([8, 6, 8, 6], ['A- maz- ing * grace! how sweet sound, That saved a * wretch me! I * once was lost, now am found, Was blind but * now see.']); // prettier-ignore
    expect(of(held).lines).toEqual([7, 5, 7, 5]);
  });

  it('is what most verses have; one line more or less is told', () => {
    const lines = [8, 6, 8, 6];
    const long = words(lines).replace('la, Tra', 'la, *');
    const found = of(song(lines, [long, words(lines), words(lines)]));
    expect(found.meter).toBe('8.6.8.6');
    expect(found.reason).toBe(
      'Lines of 8, 6, 8 and 6 syllables in verses 1, 2 and 3; verse 1 has 5 in line 2.',
    );
  });

  it('is irregular where the verses go different ways', () => {
    const thin = (nth: number) =>
      words([8, 8, 8, 8])
        .split(' ')
        .map((word, place) => (place % 8 > 0 && place % 8 <= nth ? '*' : word))
        .join(' ');
    const found = of(song([8, 8, 8, 8], [thin(0), thin(1), thin(2), thin(3)]));
    expect(found).toMatchObject({ meter: null, name: 'Irregular' });
    expect(found.reason).toMatch(
      /^The lines of verses 1, 2, 3 and 4 differ: .*verse 2 has 7 in line 1/,
    );
  });

  it('leaves out alleluias at the end, and counts one inside', () => {
    const end = `${words([7, 7])} Al- le- lu- ia!`;
    expect(of(song([7, 7, 4], [end, end])).meter).toBe('7.7 with alleluia');
    const inside = `${words([8, 7])} Al- le- lu- ia! Al- le- lu- ia! ${words([7])}`;
    expect(of(song([8, 7, 8, 7], [inside, inside])).meter).toBe('8.7.8.7');
  });

  it('is none without words, and where words were typed without notes', () => {
    expect(of(song([8, 6], []))).toMatchObject({ meter: null, name: null, lines: [] });
    expect(of({ ...song([8, 6], [words([8, 6])]), untimed: true })).toMatchObject({
      meter: null,
      reason: 'The words were typed without notes, so their syllables are not marked.',
    });
  });
});

describe('Where lines end', () => {
  const share = fc.constantFrom(0, 0.25, 0.5, 1);
  const place = fc.record({ stop: share, capital: share, both: share, pause: share, inside: fc.constantFrom(0, 0, 1) }); // prettier-ignore
  const poem = fc.array(fc.tuple(place, fc.nat(6), fc.nat(6)), { minLength: 2, maxLength: 10 });

  it('is the cheapest of all ways, each weighed whole', () => {
    fc.assert(
      fc.property(poem, (parts) => {
        let before = [0, 0];
        const places = parts.map(([signs, one, two], at): Place => {
          if (at > 0) before = [(before[0] ?? 0) + one, (before[1] ?? 0) + two];
          return { ...signs, at, before };
        });
        const last = places.length - 1;
        let least = Infinity;
        for (let bits = 0; bits < 2 ** (last - 1); bits += 1) {
          const inner = places.map((_, at) => at).filter((at) => at > 0 && at < last && (bits >> (at - 1)) % 2 === 1); // prettier-ignore
          least = Math.min(least, priceOf(places, [...inner, last]));
        }
        const { ends, points } = bestEnds(places);
        if (least === Infinity) return;
        expect(points).toBeCloseTo(least, 4);
        expect(priceOf(places, ends)).toBeCloseTo(least, 4);
      }),
      { numRuns: 300, seed: 20261128 },
    );
  });

  function priceOf(places: readonly Place[], ends: readonly number[]): number {
    const lengths = ends.map((end, line) =>
      syllablesOf(places[ends[line - 1] ?? 0] as Place, places[end] as Place),
    );
    return ends.reduce(
      (sum, end, line) =>
        sum +
        linePrice(places, ends[line - 1] ?? 0, end) +
        unevenPrice(lengths[line] ?? 0, [lengths[line - 1] ?? null, lengths[line - 2] ?? null]),
      0,
    );
  }
});
