import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chordTones, NAMED, TONES } from './chord-degrees.ts';
import * as ChordSymbol from './chord-symbol.ts';
import { CHORD_KINDS, type Chord, type ChordDegree } from './chord.ts';
import { transposeNote } from './interval.ts';
import { pitchClassOf } from './pitch.ts';

function chord(text: string): Chord {
  const read = ChordSymbol.read(text);
  if (!read.ok) throw new Error(`${text}: ${read.problems.map((each) => each.message).join(' ')}`);
  return read.value;
}

/** Spellings that musicians use for the same chord, its notes as they are spelled, and how it is written here. */
const READ: readonly [symbols: string, written: string, tones: string][] = [
  ['C | CM | Cmaj | Cma | CMA | Cmajor', 'C', 'C E G'],
  ['Cm | Cmin | Cmi | CMI | C- | Cminor | C−', 'Cm', 'C Eb G'],
  ['C+ | Caug | C(#5)', 'Caug', 'C E G#'],
  ['Cdim | C° | Co | Cº | Cm(b5)', 'Cdim', 'C Eb Gb'],
  ['C7 | Cdom7 | Cdom', 'C7', 'C E G Bb'],
  ['Cmaj7 | CM7 | CΔ | CΔ7 | C△7 | C∆ | Cma7 | CMA7 | C(maj7) | Cmajor7', 'Cmaj7', 'C E G B'],
  ['Cm7 | C-7 | Cmin7 | Cmi7 | CMI7', 'Cm7', 'C Eb G Bb'],
  ['Cdim7 | C°7 | Co7', 'Cdim7', 'C Eb Gb Bbb'],
  ['C+7 | Caug7 | C7+ | C7#5 | C7(♯5) | C7+5', 'Caug7', 'C E G# Bb'],
  ['Cø | Cø7 | Cm7b5 | Cm7(♭5) | C-7b5 | Cm7-5 | Chalf-dim7', 'Cm7b5', 'C Eb Gb Bb'],
  ['CmMaj7 | CmM7 | Cm(maj7) | C-Δ | C-Δ7 | Cminmaj7', 'Cm(maj7)', 'C Eb G B'],
  ['C6 | CM6 | Cmaj6', 'C6', 'C E G A'],
  ['Cm6 | C-6 | Cmin6', 'Cm6', 'C Eb G A'],
  ['C6/9 | C69 | C6add9 | C6(9)', 'C69', 'C E G A D'],
  ['C9 | C7add9 | C7(9)', 'C9', 'C E G Bb D'],
  ['Cmaj9 | CM9 | CΔ9', 'Cmaj9', 'C E G B D'],
  ['Cm9', 'Cm9', 'C Eb G Bb D'],
  ['C11', 'C11', 'C E G Bb D F'],
  ['C13', 'C13', 'C E G Bb D F A'],
  ['Csus | Csus4', 'Csus4', 'C F G'],
  ['Csus2', 'Csus2', 'C D G'],
  ['Csus24 | Csus2/4 | Csus2sus4', 'Csus4(add2)', 'C D F G'],
  ['C7sus4 | C7sus | Csus7', 'C7sus4', 'C F G Bb'],
  ['C9sus4 | C9sus', 'C9sus4', 'C F G Bb D'],
  ['C5 | Cno3 | C(no3rd) | C(omit 3)', 'C5', 'C G'],
  ['Cadd9 | C(add9)', 'Cadd9', 'C E G D'],
  ['C2 | Cadd2', 'Cadd2', 'C D E G'],
  ['Cm(add9) | Cmadd9', 'Cm(add9)', 'C Eb G D'],
  ['C7b9 | C7(b9) | C7♭9 | C7-9', 'C7(b9)', 'C E G Bb Db'],
  ['C7b9#11 | C7(♭9,♯11) | C7(b9)(#11)', 'C7(b9,#11)', 'C E G Bb Db F#'],
  ['C7b9#9', 'C7(b9,#9)', 'C E G Bb Db D#'],
  ['C7no5 | C7(omit5)', 'C7(no5)', 'C E Bb'],
  ['Am7/G', 'Am7/G', 'A C E G'],
  ['C/D', 'C/D', 'C E G'],
  ['C6/9/E', 'C69/E', 'C E G A D'],
  ['F#maj7 | F♯maj7', 'F#maj7', 'F# A# C# E#'],
  ['B♭7 | Bb7', 'Bb7', 'Bb D F Ab'],
  ['G#7', 'G#7', 'G# B# D# F#'],
  ['F##dim7 | F𝄪°7', 'F##dim7', 'F## A# C# E'],
  ['Bbb | B𝄫', 'Bbb', 'Bbb Db Fb'],
  ['Cbm', 'Cbm', 'Cb Ebb Gb'],
  ['C maj 7', 'Cmaj7', 'C E G B'],
  ['am | Amin | A-', 'Am', 'A C E'],
  ['f#m', 'F#m', 'F# A C#'],
];

describe('Reading a chord symbol', () => {
  it.each(READ)('%s', (symbols, written, tones) => {
    for (const symbol of symbols.split(' | ')) {
      const found = chord(symbol);
      expect([symbol, ChordSymbol.write(found)]).toEqual([symbol, written]);
      expect(ChordSymbol.tonesOf(found).join(' ')).toBe(tones);
    }
  });

  it('knows that nothing sounds', () => {
    for (const text of ['N.C.', 'NC', 'n.c.', 'N.C', 'no chord']) {
      expect(ChordSymbol.write(chord(text))).toBe('N.C.');
      expect(ChordSymbol.tonesOf(chord(text))).toEqual([]);
    }
  });

  it.each([
    ['a', 'chord-lower-case', 1, 'A'],
    ['bb', 'chord-lower-case', 1, 'Bb'],
    ['C4', 'chord-four', 1, 'Csus4'],
    ['C7alt', 'chord-altered', 3, 'Caug7(#9)'],
    ['Gm7sus4', 'chord-minor-suspended', 4, 'G7sus4'],
  ])('%s is read with a reservation', (text, code, column, written) => {
    const read = ChordSymbol.read(text);
    expect(read.ok && ChordSymbol.write(read.value)).toBe(written);
    expect(read.ok && read.warnings).toMatchObject([{ code, column }]);
  });

  it.each([
    ['', 'chord-empty', 1],
    ['   ', 'chord-empty', 1],
    ['H7', 'chord-german-h', 1],
    ['C/H', 'chord-german-h', 3],
    ['hello', 'chord-root', 1],
    ['Refrain', 'chord-root', 1],
    ['C###', 'chord-root', 1],
    ['Grace', 'chord-quality', 2],
    ['Be', 'chord-quality', 2],
    ['Fx7', 'chord-quality', 2],
    ['C-5', 'chord-quality', 2],
    ['C15', 'chord-number', 2],
    ['C7b3', 'chord-degree', 3],
    ['Cadd14', 'chord-degree', 2],
    ['C7(maj7)', 'chord-contradiction', 4],
    ['Cm5', 'chord-contradiction', 1],
    ['Cdim6', 'chord-contradiction', 1],
    ['C(no7)', 'chord-contradiction', 3],
    ['C7(b9', 'chord-parenthesis', 3],
    ['C7b9)', 'chord-parenthesis', 5],
    ['C/', 'chord-bass', 2],
    ['C/Em', 'chord-bass', 3],
    ['C/9', 'chord-quality', 2],
    [`C${'7'.repeat(80)}`, 'chord-too-long', 1],
  ])('%j is refused', (text, code, column) => {
    expect(ChordSymbol.read(text)).toMatchObject({ ok: false, problems: [{ code, column }] });
  });

  it('answers any text at all without an exception', () => {
    const signs = fc.constantFrom(...'ABCGabm#♯♭𝄪𝄫b-+°øΔM79136245/() ,susaddnoalt'.split(''));
    const texts = fc.oneof(
      fc.string(),
      fc.array(signs, { maxLength: 12 }).map((s) => s.join('')),
    );
    fc.assert(
      fc.property(texts, (text) => {
        const read = ChordSymbol.read(text);
        if (!read.ok) return read.problems.every((each) => (each.column ?? 0) >= 1);
        return ChordSymbol.sameChord(chord(ChordSymbol.write(read.value)), read.value);
      }),
      { numRuns: 3000, seed: 20 },
    );
  });
});

const root = fc.constantFrom(
  ...'CDEFGAB'.split('').flatMap((letter) => ['', '#', 'b', '##', 'bb'].map((s) => letter + s)),
);
const kind = fc.constantFrom(...CHORD_KINDS);

/** Degrees that say something about their kind: added, altered or left out. */
function degreesFor(of: Chord['kind']): fc.Arbitrary<readonly ChordDegree[]> {
  const values = fc.integer({ min: 1, max: 13 });
  const degree = fc
    .tuple(values, fc.integer({ min: -1, max: 1 }), fc.boolean())
    .map(([value, alter, out]): ChordDegree => {
      const has = TONES[of].some((tone) => tone[0] === value);
      if (has && (out || alter === 0)) return { type: 'subtract', value, alter: 0 };
      return { type: has ? 'alter' : 'add', value, alter };
    });
  const most = of === 'none' ? 0 : 3;
  return fc.uniqueArray(degree, { maxLength: most, selector: (each) => each.value });
}

const anyChord: fc.Arbitrary<Chord> = kind.chain((of) =>
  fc.record({
    root,
    kind: fc.constant(of),
    degrees: degreesFor(of),
    bass: of === 'none' ? fc.constant(null) : fc.option(root),
  }),
);

describe('Writing a chord symbol', () => {
  it('and reading it gives the same chord, for every kind, root, degree and bass', () => {
    fc.assert(
      fc.property(anyChord, (any) => {
        const plain = ChordSymbol.canonical(any);
        expect(chord(ChordSymbol.write(any))).toEqual(plain);
        expect(chord(ChordSymbol.write(plain))).toEqual(plain);
      }),
      { numRuns: 5000, seed: 7 },
    );
  });

  it('in its one form keeps every tone', () => {
    fc.assert(
      fc.property(anyChord, (any) => {
        expect(chordTones(ChordSymbol.canonical(any))).toEqual(chordTones(any));
      }),
      { numRuns: 3000, seed: 8 },
    );
  });

  it('gives back each of the 33 kinds on each root, with and without a bass', () => {
    for (const of of CHORD_KINDS) {
      for (const on of of === 'none' ? ['C'] : ['C', 'F#', 'Bb', 'G##', 'Ebb']) {
        for (const bass of of === 'none' ? [null] : [null, 'A', 'Db']) {
          const one: Chord = { root: on, kind: of, degrees: [], bass };
          expect(chord(ChordSymbol.write(one))).toEqual(one);
        }
      }
    }
  });

  it.each([
    ['F#m7b5', 'F♯m7♭5'],
    ['Bb7(b9,#11)/Ab', 'B♭7(♭9,♯11)/A♭'],
    ['F##dim7', 'F♯♯dim7'],
    ['Cdim', 'Cdim'],
    ['Ebsus4', 'E♭sus4'],
    ['Abadd9', 'A♭add9'],
    ['C(Neapolitan)', 'C(Neapolitan)'],
  ])('for people: %s is said %s', (written, said) => {
    expect(ChordSymbol.say(chord(written))).toBe(said);
  });
});

describe('The tones of a chord', () => {
  it('stand a letter apart as their degrees do', () => {
    for (const of of CHORD_KINDS.filter((each) => !NAMED.includes(each))) {
      const tones = ChordSymbol.tonesOf({ root: 'D', kind: of, degrees: [], bass: null });
      const letters = TONES[of].map(([value]) => 'DEFGABC'.charAt((value - 1) % 7));
      expect(tones.map((tone) => tone.charAt(0))).toEqual(letters);
    }
  });

  it('move with the chord, bass and all', () => {
    const interval = { steps: 1, semitones: 2 };
    fc.assert(
      fc.property(anyChord, (any) => {
        const moved = ChordSymbol.transpose(any, interval);
        const sounding = ChordSymbol.tonesOf(any).map((tone) => (pitchClassOf(tone) + 2) % 12);
        expect(ChordSymbol.tonesOf(moved).map(pitchClassOf)).toEqual(sounding);
        if (any.bass && any.kind !== 'none') {
          expect(moved.bass).toBe(transposeNote(any.bass, interval));
        }
      }),
      { numRuns: 1000, seed: 9 },
    );
  });
});
