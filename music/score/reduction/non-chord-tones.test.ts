import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { chords } from '../reduction.ts';

/**
 * The embellishing tones as textbooks define them: Open Music Theory, "Embellishing Tones" (J. Peterson), its first
 * version for double and incomplete neighbours; the cambiata from memory. The examples are written for these tests:
 * a tune over chords that the other voices hold.
 */
const TONIC = { A: 'G4:2', T: 'E4:2', B: 'C3:2' };
const CASES: readonly (readonly [
  name: string,
  voices: Readonly<Record<string, string>>,
  expected: readonly string[],
])[] = [
  [
    'between two chord tones a third apart, by step onwards',
    { S: 'C5:1/2 D5:1/2 E5', ...TONIC },
    ['passing D5'],
  ],
  [
    'two in a row fill a fourth',
    { S: 'C5:1/2 B4:1/2 A4:1/2 G4:1/2 C5:2', A: 'G4:4', T: 'E4:4', B: 'C3:4' },
    ['passing B4', 'passing A4'],
  ],
  ['a step away and back', { S: 'E5:1/2 F5:1/2 E5', ...TONIC }, ['neighbour F5']],
  [
    'a step on either side',
    { S: 'E5:1/2 F5:1/2 D5:1/2 E5:1/2 E5:2', A: 'G4:4', T: 'E4:4', B: 'C3:4' },
    ['double neighbour F5', 'double neighbour D5'],
  ],
  [
    'by leap, then a step back, on the stronger moment',
    { S: 'C5:2 F5:1/2 E5:3/2', A: 'G4:2 G4:2', T: 'E4:2 E4:2', B: 'C3:2 C3:2' },
    ['appoggiatura F5'],
  ],
  [
    'by step, then a leap back, on the weaker moment',
    { S: 'E5:1/2 F5:1/2 C5', ...TONIC },
    ['escape F5'],
  ],
  [
    'by step, on by a third, and a step back',
    {
      S: 'C5:1/2 B4:1/2 G4:1/2 A4:1/2 A4:2',
      A: 'E4:3/2 F4:1/2 F4:2',
      T: 'C4:4',
      B: 'C3:3/2 F3:5/2',
    },
    ['cambiata B4'],
  ],
  [
    'held over the bar line and falling by step over a bass that stays: 4–3',
    {
      S: 'G4:4 | G4:4 | E4:4',
      A: 'C4:4~ C4:2 B3:2 C4:4',
      T: 'E3:4 D3:4 G3:4',
      B: 'C3:4 G2:4 C3:4',
    },
    ['suspension C4 4–3'],
  ],
  [
    'held over and falling to the octave of the bass: 9–8',
    { S: 'D5:4~ | D5:2 C5:2', A: 'G4:4 G4:4', T: 'B3:4 E4:4', B: 'G2:4 C3:4' },
    ['suspension D5 9–8'],
  ],
  [
    'held over and rising by step: 7–8',
    { S: 'B4:4~ | B4 C5:3', A: 'G4:4 G4:4', T: 'D4:4 E4:4', B: 'G2:4 C3:4' },
    ['retardation B4 7–8'],
  ],
  [
    'before its chord, then repeated in it',
    { S: 'B4:7/2 C5:1/2 | C5:4', A: 'G4:4 G4:4', T: 'D4:4 E4:4', B: 'G2:4 C3:4' },
    ['anticipation C5'],
  ],
  [
    'a bass that stays while the chord above it changes and comes back',
    {
      S: 'E5:2 F5:2 | E5:4',
      A: 'C5:2 B4:2 C5:4',
      T: 'G4:2 G4:2 G4:4',
      U: 'C4:2 D4:2 C4:4',
      B: 'C3:4~ C3:4',
    },
    ['pedal C3'],
  ],
];

function named(voices: Readonly<Record<string, string>>): string[] {
  const reading = chords(buildScore({ key: 'C', meter: '4/4', voices }), { density: 'beat' });
  return reading.nonChordTones.map(({ kind, pitch, figure }) =>
    [kind, pitch, figure].filter((part) => part !== null).join(' '),
  );
}

describe('A note outside its chord is named', () => {
  it.each(CASES)('%s', (_, voices, expected) => {
    expect(named(voices)).toEqual(expected);
  });

  it('and stays without a name where no definition fits: a leap to it and a leap from it', () => {
    const voices = { S: 'E5:1/2 A5:1/2 C5', ...TONIC };
    expect(named(voices)).toEqual(['unclassified A5']);
  });

  it('with bar, beat and pitches in its sentence', () => {
    const score = buildScore({
      key: 'C',
      meter: '4/4',
      voices: { S: 'C5:1/2 D5:1/2 E5', ...TONIC },
    });
    expect(chords(score, { density: 'beat' }).nonChordTones[0]?.words).toBe(
      'bar 1, halfway through beat 1: the D5 of S passes from C to E (passing note).',
    );
  });
});
