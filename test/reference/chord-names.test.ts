import { describe, expect, it } from 'vitest';
import { ChordSymbol, Keys, WordsAndChords, type Chord, type Key, type NamedNotes } from '#music';

function chordOf(symbol: string): Chord {
  const read = ChordSymbol.read(symbol);
  if (!read.ok) throw new Error(symbol);
  return read.value;
}

function keyOf(text: string): Key {
  const key = Keys.readKey(text);
  if (!key) throw new Error(text);
  return key;
}

const named = (symbols: string, names: NamedNotes, key = 'C'): string =>
  symbols
    .split(' ')
    .map((each) => ChordSymbol.symbolIn(chordOf(each), names, keyOf(key)))
    .join(' ');

/** Roots that are met, and what follows a root in all its ways. */
const ROOTS = 'C C# Db D D# Eb E Fb F F# Gb G G# Ab A A# Bb B B# Cb'.split(' ');
const BODIES = ['', 'm', '7', 'm7', 'maj7', 'sus4', 'sus2', '7sus4', 'dim', 'dim7', 'aug', '6', 'm6', '69', '9', 'add9', 'm7b5', '7(b9)', '7(b9,#11)', 'm(maj7)', '13', '5', '(b5)']; // prettier-ignore

describe('Chord symbols by other names of the notes', () => {
  /*
   * Trade.md, 5.6 (course notes and an encyclopaedia article named there): C/E in C is 1/3, G/B in C 5/7, F major in A ♭6;
   * minor by a dash or m: Am/G in C is 6-/5, here 6m/5.
   */
  it.each([
    ['C', 'C/E G/B Am/G', '1/3 5/7 6m/5'],
    ['A', 'A F G', '1 ♭6 ♭7'],
    ['C', 'C F G Am', '1 4 5 6m'],
  ])('in %s: %s are the numbers %s', (key, symbols, numbers) => {
    expect(named(symbols, 'numbers', key)).toBe(numbers);
  });

  it('raise a figure after a number, so that it makes no other number of it', () => {
    expect(named('G7 Dm7 Fmaj7 G7sus4 G7(b9) C69 Bdim', 'numbers')).toBe(
      '5⁷ 2m7 4maj7 5⁷sus4 5⁷(♭9) 1⁶⁹ 7dim',
    );
  });

  it('are numbers from the tonic of a minor key', () => {
    expect(named('Am Dm E7 C F G', 'numbers', 'A minor')).toBe('1m 4m 5⁷ 3 6 7');
  });

  /* The letters are those of the published names in note-names.test.ts: H is B, B is B flat, Es, As, Fis. */
  it('are German: H7 for B7, B for B flat', () => {
    expect(named('B7 Bb F#m Eb/G Ab Bm7b5 G/B N.C.', 'german')).toBe(
      'H7 B Fism Es/G As Hm7♭5 G/H N.C.',
    );
  });

  it('are syllables with a fixed do', () => {
    expect(named('G7 Am Bb F#m C/E', 'solfege', 'G')).toBe('Sol7 Lam Si♭ Fa♯m Do/Mi');
  });

  it.each([
    ['German', 'german'],
    ['solfège', 'solfege'],
  ] as const)('in %s are what our own reader of such texts reads', (reads, names) => {
    for (const root of ROOTS)
      for (const body of BODIES)
        for (const bass of ['', '/Bb', '/F#', '/B']) {
          const chord = chordOf(root + body + bass);
          const said = ChordSymbol.symbolIn(chord, names, keyOf('C'));
          expect(readBack(said, reads, 'C'), said).toBe(ChordSymbol.write(chord));
        }
  });

  it('as numbers are what our own reader of such texts reads', () => {
    for (const key of ['C', 'Eb', 'F#'])
      for (const root of Keys.scaleOf(keyOf(key)))
        for (const body of BODIES) {
          const chord = chordOf(root + body);
          const said = ChordSymbol.symbolIn(chord, 'numbers', keyOf(key));
          expect(readBack(said, 'numbers', key), `${said} in ${key}`).toBe(
            ChordSymbol.write(chord),
          );
        }
  });

  it('in English are what they always were', () => {
    for (const root of ROOTS)
      for (const body of BODIES) {
        const chord = chordOf(root + body);
        expect(ChordSymbol.symbolIn(chord, 'english', keyOf('C'))).toBe(ChordSymbol.say(chord));
      }
  });
});

function readBack(symbol: string, names: 'German' | 'solfège' | 'numbers', key: string): string {
  const text = `A song\nKey: ${key}\nChords: ${names}\n\nVerse 1\n${symbol}   ${symbol}\nhow sweet the sound that saved\n`;
  const read = WordsAndChords.read(text, { names });
  if (!read.ok) return read.problems[0]?.message ?? '';
  const chord = read.value.chords[0]?.chord;
  return chord ? ChordSymbol.write(chord) : 'none';
}
