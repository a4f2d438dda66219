import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { ChordSymbol, Intervals, Keys, Pitches, type Chord, type Key } from '#music';
import { GUITAR_STRINGS, OPEN_CHORDS, openShapeOf } from '../../music/hand/guitar-chords.ts';
import { keyForGuitar } from '../../music/hand/key-for-guitar.ts';

const chord = (symbol: string): Chord => {
  const read = ChordSymbol.read(symbol);
  if (!read.ok) throw new Error(symbol);
  return read.value;
};
const KEYS = [...Keys.keysToOffer('major'), ...Keys.keysToOffer('minor')];

// Standard tuning E2 A2 D3 G3 B3 E4 (Wikipedia, Guitar tunings); frets are half steps.
describe('open shapes, held against the tuning', () => {
  it.each(Object.entries(OPEN_CHORDS))('%s %s', (symbol, frets) => {
    const strings = [...frets].flatMap((fret, i) => (fret === 'x' ? [] : [[i, Number(fret)]]));
    const sounding = strings.map(
      ([i = 0, fret = 0]) => Pitches.midiOf(GUITAR_STRINGS[i] ?? '') + fret,
    );
    const tones = ChordSymbol.pitchClassesOf(chord(symbol));
    const fifth = (Pitches.pitchClassOf(chord(symbol).root) + 7) % 12;
    // A chord of four notes may leave out its fifth (common practice: C7 as x32310).
    const needed = tones.length > 3 ? tones.filter((tone) => tone !== fifth) : tones;
    expect(frets).toHaveLength(6);
    expect(sounding[0] ?? 0).toBe(Math.min(...sounding));
    expect((sounding[0] ?? 0) % 12).toBe(Pitches.pitchClassOf(chord(symbol).root));
    expect(tones).toEqual(expect.arrayContaining(sounding.map((midi) => midi % 12)));
    expect(sounding.map((midi) => midi % 12)).toEqual(expect.arrayContaining(needed));
    const pressed = strings.filter(([, fret]) => fret !== 0);
    expect(strings.length).toBeGreaterThan(pressed.length);
    expect(pressed.length).toBeLessThanOrEqual(4);
    expect(Math.max(...strings.map(([, fret = 0]) => fret))).toBeLessThanOrEqual(3);
  });

  it('F, Bm, B♭ and F♯m take a barre (“The Fifteen Essential Open Chords”, discover.hubpages.com, of F; common practice)', () => {
    for (const symbol of ['F', 'Bm', 'Bb', 'F#m', 'Cm', 'Gm', 'Eb', 'Ab', 'B'])
      expect(openShapeOf(chord(symbol)), symbol).toBeNull();
  });

  it('leave a slash bass to whoever plays the bass', () => {
    expect(openShapeOf(chord('D/F#'))).toBe(openShapeOf(chord('D')));
  });
});

// Published capo table (guitar-chord.org, geneclark.com): fret at which shapes of G, C, D, A, E sound in a key.
const CAPO: Readonly<Record<string, readonly number[]>> = {
  C: [5, 0, 10, 3, 8],
  Db: [6, 1, 11, 4, 9],
  D: [7, 2, 0, 5, 10],
  Eb: [8, 3, 1, 6, 11],
  E: [9, 4, 2, 7, 0],
  F: [10, 5, 3, 8, 1],
  'F#': [11, 6, 4, 9, 2],
  G: [0, 7, 5, 10, 3],
  Ab: [1, 8, 6, 11, 4],
  A: [2, 9, 7, 0, 5],
  Bb: [3, 10, 8, 1, 6],
  B: [4, 11, 9, 2, 7],
};
const SHAPES = ['G', 'C', 'D', 'A', 'E'];

describe('the capo, as the published table has it', () => {
  it.each(Object.entries(CAPO))('%s', (tonic, frets) => {
    const sounds: Key = { tonic, mode: 'major' };
    for (const limit of [0, 5, 7] as const) {
      const { positions } = keyForGuitar([chord(tonic)], sounds, limit);
      SHAPES.forEach((shape, i) => {
        const found = positions.filter(({ plays }) => plays.tonic === shape);
        const fret = frets[i] ?? NaN;
        expect(found.map((each) => each.fret)).toEqual(fret <= limit ? [fret] : []);
      });
    }
  });

  it('says shapes and sounding key together', () => {
    const { best } = keyForGuitar(
      ['A', 'D', 'E', 'F#m'].map(chord),
      { tonic: 'A', mode: 'major' },
      5,
    );
    expect(best.capo?.words).toBe('capo 2: shapes of G, it sounds in A');
    expect(best).toMatchObject({ fret: 2, barre: 0, changes: 4 });
  });
});

/** By half steps alone: no spelling, no code of the choice. */
function barreBy(chords: readonly string[], fret: number): string[] {
  return chords.filter((symbol) => {
    const { root, kind, degrees } = chord(symbol);
    const low = (Pitches.pitchClassOf(root) - fret + 24) % 12;
    return !Object.keys(OPEN_CHORDS).some((name) => {
      const open = chord(name);
      const isSame = JSON.stringify([open.kind, open.degrees]) === JSON.stringify([kind, degrees]);
      return isSame && Pitches.pitchClassOf(open.root) === low;
    });
  });
}

describe('the best place for the capo, against every fret', () => {
  const symbols = fc.constantFrom('C', 'D', 'E', 'F', 'G', 'A', 'Bb', 'Am', 'Bm', 'Em', 'F#m', 'G7', 'D7', 'Eb', 'Ab', 'Fm', 'Gm', 'C#m'); // prettier-ignore
  it('fewest changes to barre chords, then fewest different ones, then the lowest fret', () => {
    fc.assert(
      fc.property(
        fc.array(symbols, { minLength: 1, maxLength: 8 }),
        fc.constantFrom(...KEYS),
        fc.constantFrom(0 as const, 5 as const, 7 as const),
        (chords, sounds, limit) => {
          const { best, positions } = keyForGuitar(chords.map(chord), sounds, limit);
          const all = Array.from({ length: limit + 1 }, (_, fret) => {
            const barre = barreBy(chords, fret);
            return [barre.length, new Set(barre).size, fret] as const;
          });
          expect(positions.map((each) => [each.barre, each.barreChords.length, each.fret])).toEqual(
            all,
          );
          const least = [...all].sort((a, b) => a[0] - b[0] || a[1] - b[1] || a[2] - b[2])[0];
          expect([best.barre, best.barreChords.length, best.fret]).toEqual(least);
          for (const { plays, fret } of positions)
            expect((Pitches.pitchClassOf(plays.tonic) + fret) % 12).toBe(
              Pitches.pitchClassOf(sounds.tonic),
            );
        },
      ),
    );
  });

  it('of I, IV, V and vi: no barre where shapes of G reach with five frets, else one for F or Bm', () => {
    // G C D Em are open; with a capo up to the fifth fret they sound in G to C. Shapes of C have F, shapes of D Bm.
    const found = Keys.keysToOffer('major').map((key) => {
      const way = Intervals.intervalUp('G', key.tonic);
      const chords = ['G', 'C', 'D', 'Em'].map((symbol) =>
        ChordSymbol.transpose(chord(symbol), way),
      );
      return [key.tonic, keyForGuitar(chords, key, 5).best.barre];
    });
    expect(Object.fromEntries(found)).toEqual({ C: 0, Db: 1, D: 1, Eb: 1, E: 1, F: 1, 'F#': 1, G: 0, Ab: 0, A: 0, Bb: 0, B: 0 }); // prettier-ignore
  });
});
