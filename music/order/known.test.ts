import { describe, expect, it } from 'vitest';
import { read as readChord } from '../pitch/chord-symbol.ts';
import { ahead, of, sayAhead, withLine, type PlayedPart } from './known.ts';

const FINGERS = [1, 3, 5];

function part(song: string, ...shapes: readonly (readonly [string, ...string[]])[]): PlayedPart {
  return {
    song,
    part: {
      shapes: shapes.map(([symbol, ...notes]) => {
        const read = readChord(symbol);
        if (!read.ok) throw new Error(`${symbol} is a chord`);
        const left = { notes: [], fingers: [] };
        return { chord: read.value, at: 0, notes, fingers: FINGERS, left, words: '' };
      }),
    },
  };
}

const C = ['C', 'C4', 'E4', 'G4'] as const;
const F = ['F', 'C4', 'F4', 'A4'] as const;
const F_HIGH = ['F', 'F4', 'A4', 'C5'] as const;
const G = ['G', 'B3', 'D4', 'G4'] as const;

describe('the shapes of a service to come', () => {
  it('are each there once, in order, with the songs that have them', () => {
    const shapes = ahead([part('a', C, F), part('b', F, G)], []);
    expect(shapes.map(({ chord, songs }) => [chord, songs])).toEqual([
      ['C', ['a']],
      ['F', ['a', 'b']],
      ['G', ['b']],
    ]);
  });

  it('are known where chord, notes and fingers were met; another place on the keys is new', () => {
    const met = of([part('past', C, F)]);
    const shapes = ahead([part('a', C, F_HIGH, G)], met);
    expect(shapes.map(({ known }) => known)).toEqual([true, false, false]);
  });

  it('follow a line as it is played now: as if the whole were found anew', () => {
    const met = of([part('past', C, F)]);
    const found = ahead([part('a', C, F), part('b', F, G)], met);
    const bySign = (shapes: ReturnType<typeof ahead>) =>
      shapes.map((shape) => JSON.stringify({ ...shape, songs: [...shape.songs].sort() })).sort();
    const order = withLine(found, part('a', C, F, F_HIGH), met).map(({ chord }) => chord);
    expect(order, 'in the order they were found').toEqual(['C', 'F', 'G', 'F']);
    for (const now of [part('b', F_HIGH), part('b', C, G), part('a', G), part('a')]) {
      const all = now.song === 'a' ? [now, part('b', F, G)] : [part('a', C, F), now];
      expect(bySign(withLine(found, now, met))).toEqual(bySign(ahead(all, met)));
    }
  });

  it('are counted, and the new ones are named', () => {
    const met = of([part('past', C, F)]);
    const say = (...parts: PlayedPart[]) => sayAhead(ahead(parts, met), 'Joel', 'Sunday');
    expect(say(part('a', C, F, G))).toBe(
      'Joel has played two of Sunday’s three shapes here. Not played here yet: G.',
    );
    expect(say(part('a', C, F_HIGH, G))).toBe(
      'Joel has played one of Sunday’s three shapes here. Not played here yet: F and G.',
    );
    expect(say(part('a', C, F))).toBe('Joel has played all of Sunday’s two shapes here.');
    expect(say(part('a', C))).toBe('Joel has played Sunday’s one shape here.');
    expect(say(part('a', G))).toBe('Joel has not played Sunday’s one shape here yet.');
    expect(say(part('a', G, F_HIGH))).toBe(
      'Joel has not played any of Sunday’s two shapes here yet.',
    );
    expect(say()).toBe('');
  });
});
