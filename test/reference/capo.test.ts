import { describe, expect, it } from 'vitest';
import { Keys, PlayedKeys, Pitches, type Key } from '#music';

/**
 * Which key open shapes sound in with a capo: the capo chart of guitar-chord.org. [shapes, fret, sounds]
 */
const PUBLISHED = [
  ['C', 2, 'D'],
  ['C', 4, 'E'],
  ['C', 5, 'F'],
  ['D', 2, 'E'],
  ['D', 3, 'F'],
  ['D', 5, 'G'],
  ['E', 1, 'F'],
  ['E', 3, 'G'],
  ['E', 5, 'A'],
  ['G', 2, 'A'],
  ['G', 4, 'B'],
  ['G', 5, 'C'],
  ['A', 2, 'B'],
  ['A', 3, 'C'],
  ['A', 5, 'D'],
] as const;

const major = (tonic: string): Key => ({ tonic, mode: 'major' });
const ALL: readonly Key[] = [...Keys.keysToOffer('major'), ...Keys.keysToOffer('minor')];

describe('a capo', () => {
  it.each(PUBLISHED)('%s shapes at fret %d sound in %s', (shape, fret, sounds) => {
    const found = PlayedKeys.capoChoices(major(sounds), 5).find(
      ({ plays }) => plays.tonic === shape,
    );
    expect(found).toMatchObject({ by: 'capo', amount: fret, sounds: major(sounds) });
    expect(found?.words).toBe(`capo ${fret}: shapes of ${shape}, it sounds in ${sounds}`);
    expect(PlayedKeys.of(major(sounds), shape, {}, 'guitar')).toEqual(found);
  });

  it.each(ALL.map((key) => [Keys.sayKey(key), key] as const))(
    '%s: the fret is the sounding key less the shape, counted by tonics of pitches up the octave',
    (_, key) => {
      const sounding = Pitches.midiOf(`${key.tonic}4`) % 12;
      for (const limit of [5, 7] as const) {
        const offered = new Map(
          PlayedKeys.capoChoices(key, limit).map(({ plays, amount }) => [plays.tonic, amount]),
        );
        const shapes = key.mode === 'major' ? ['C', 'G', 'D', 'A', 'E'] : ['A', 'E', 'D'];
        for (const shape of shapes) {
          const fret = (sounding - (Pitches.midiOf(`${shape}4`) % 12) + 12) % 12;
          expect(offered.get(shape)).toBe(fret >= 1 && fret <= limit ? fret : undefined);
        }
        for (const { plays } of PlayedKeys.capoChoices(key, limit)) {
          expect(plays.mode).toBe(key.mode);
          expect(shapes).toContain(plays.tonic);
        }
      }
      expect(PlayedKeys.capoChoices(key, 0)).toEqual([]);
    },
  );

  it('up to the fifth fret reaches every major key from an open shape', () => {
    for (const key of Keys.keysToOffer('major')) {
      const open = ['C', 'G', 'D', 'A', 'E'].includes(key.tonic);
      expect(open || PlayedKeys.capoChoices(key, 5).length > 0).toBe(true);
    }
  });
});
