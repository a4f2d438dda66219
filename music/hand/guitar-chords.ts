import { canonical, read } from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import { pitchClassOf, type PitchName } from '../pitch/pitch.ts';

/** Open strings from the lowest, as they sound: standard tuning (Wikipedia, Guitar tunings). */
export const GUITAR_STRINGS: readonly PitchName[] = ['E2', 'A2', 'D3', 'G3', 'B3', 'E4'];

/**
 * Chords that are held with open strings, within the first three frets and without a barre: for each string from the
 * lowest its fret, 0 open, x not struck. The first fifteen are those that beginners are taught (“The Fifteen Essential
 * Open Chords”, discover.hubpages.com: with Fmaj7 for F, whose usual shape needs a barre); the others are their usual
 * colours (common practice). The test holds every one against the tuning.
 */
export const OPEN_CHORDS: Readonly<Record<string, string>> = {
  C: 'x32010',
  D: 'xx0232',
  E: '022100',
  G: '320003',
  A: 'x02220',
  Am: 'x02210',
  Dm: 'xx0231',
  Em: '022000',
  C7: 'x32310',
  D7: 'xx0212',
  E7: '020100',
  G7: '320001',
  A7: 'x02020',
  B7: 'x21202',
  Fmaj7: 'xx3210',
  Cmaj7: 'x32000',
  Dmaj7: 'xx0222',
  Emaj7: '021100',
  Gmaj7: '320002',
  Amaj7: 'x02120',
  Am7: 'x02010',
  Dm7: 'xx0211',
  Em7: '020000',
  Dsus2: 'xx0230',
  Asus2: 'x02200',
  Dsus4: 'xx0233',
  Esus4: '022200',
  Asus4: 'x02230',
  Gsus4: '3x0013',
  D7sus4: 'xx0213',
  E7sus4: '020200',
  A7sus4: 'x02030',
  Cadd9: 'x32030',
  Gadd9: '3x0203',
  D6: 'xx0202',
  E6: '022120',
  G6: '320000',
  Am6: 'x02212',
  Dm6: 'xx0201',
  Em6: '022020',
  D5: 'xx023x',
  E5: '022xxx',
  G5: '3x0033',
  A5: 'x022xx',
};

function nameOf(chord: Chord): string {
  const { root, kind, degrees } = canonical(chord);
  const added = degrees.map(({ type, value, alter }) => `${type} ${value} ${alter}`);
  return [pitchClassOf(root), kind, ...added].join(' ');
}

let known: ReadonlyMap<string, string> | null = null;

function openChords(): ReadonlyMap<string, string> {
  known ??= new Map(
    Object.entries(OPEN_CHORDS).map(([symbol, frets]) => {
      const chord = read(symbol);
      if (!chord.ok) throw new RangeError(`no chord ${symbol}`);
      return [nameOf(chord.value), frets];
    }),
  );
  return known;
}

/**
 * The open shape of a chord; null: it takes a barre. A bass of its own (`D/F#`) is left to whoever plays the bass.
 */
export function openShapeOf(chord: Chord): string | null {
  return openChords().get(nameOf(chord)) ?? null;
}
