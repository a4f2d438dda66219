import { describe, expect, it } from 'vitest';
import { ChordSymbol, Keys, WordsAndChords, type Score, type WordsAndChordsOptions } from '#music';

function read(text: string, options: WordsAndChordsOptions = {}): Score {
  const result = WordsAndChords.read(text, options);
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

const warningsOf = (text: string, options: WordsAndChordsOptions = {}): string[] => {
  const result = WordsAndChords.read(text, options);
  return result.ok ? result.warnings.map(({ code }) => code) : [];
};

const chordsOf = ({ chords }: Score): string =>
  chords.map(({ chord }) => (chord ? ChordSymbol.write(chord) : 'N.C.')).join(' ');

const song = (head: string, chords: string, words = 'how sweet the sound that saved a wretch') =>
  `A song\n${head}\n\nVerse 1\n${chords}\n${words}\n`;

/**
 * Number charts (published course notes of the number system, and an encyclopaedia article as copied there): C/E in C is 1/3, G/B 5/7, Am/G
 * 6-/5, F major in A ♭6, 7° the seventh degree diminished; “-” and “m” are minor.
 */
describe('Chords that are numbers of the key', () => {
  it.each([
    ['C', '1  5/7  6-  6-/5  4', 'C G/B Am Am/G F'],
    ['C', '1/3  4  5  1', 'C/E F G C'],
    ['G', '1  5  6-  4', 'G D Em C'],
    ['A', '1  b6  b7  1', 'A F G A'],
    ['Eb', '1  2-  57  1', 'Eb Fm Bb7 Eb'],
    ['F#', '1  3m  4maj7  5sus4  1', 'F# A#m Bmaj7 C#sus4 F#'],
    ['D', '1  7°  1  | 4  5 |', 'D C#dim D G A'],
    ['Bb', '1  #4°  5', 'Bb Edim F'],
  ])('in %s: %s is %s', (key, numbers, chords) => {
    expect(chordsOf(read(song(`Key: ${key}`, numbers), { names: 'numbers' }))).toBe(chords);
  });

  it('are known by themselves where whole lines are numbers, and that is said', () => {
    const text = `${song('Key: G', '1     4    1')}5     6-   4\nwas lost but now am found\n`;
    expect(chordsOf(read(text))).toBe('G C G D Em C');
    expect(warningsOf(text)).toContain('guess-names');
  });

  it('are not looked for where letters stand', () => {
    const text = `${song('Key: G', 'G     C    G')}1  2\nwas lost\n3  4\nam found`;
    expect(chordsOf(read(text))).toBe('G C G');
  });

  // Common practice: a minor song is counted from the tonic of its relative major (6-) or from its own (1-).
  it.each([
    ['6-  4  1  5', undefined, 'Em C G D'],
    ['1-  6  3  7', undefined, 'Em C G D'],
    ['1-  b6  b3  b7', undefined, 'Em C G D'],
    ['1-  4-  5  1-', undefined, 'Em Am B Em'],
    ['1-  6-', '6-', 'Gm Em'],
    ['4  5', '1-', 'A B'],
  ] as const)('in E minor %s, counted from %s, is %s', (numbers, minorFrom, chords) => {
    const options = { names: 'numbers', ...(minorFrom && { minorFrom }) } as const;
    expect(chordsOf(read(song('Key: Em', numbers), options))).toBe(chords);
  });

  it('in a minor key say which of 6- and 1- is meant, unless the song says so', () => {
    const text = song('Key: Em', '6-  4  1  5');
    const result = WordsAndChords.read(text, { names: 'numbers' });
    const said = result.ok && result.warnings.find(({ code }) => code === 'guess-minor-numbers');
    expect(said && said.message).toContain('6- is its tonic chord');
    const named = song('Key: Em\nChords: numbers from 1-', '1-  4-  5  1-');
    expect(chordsOf(read(named))).toBe('Em Am B Em');
    expect(warningsOf(named)).not.toContain('guess-minor-numbers');
  });

  it('follow the key where the song changes it, and are in C where none is named', () => {
    const text = 'T\nKey: D\nChords: numbers\n\nVerse 1\n1  4\na b\n\nKey: E\nVerse 2\n1  4\nc d\n';
    expect(chordsOf(read(text))).toBe('D G E A');
    expect(chordsOf(read(song('Chords: numbers', '1  5')))).toBe('C G');
    expect(warningsOf(song('Chords: numbers', '1  5'))).toContain('guess-number-key');
  });
});

/**
 * German letters: `\germanChords` of LilyPond “replaces B and Bes with H and B” (LSR, changing the chord names to German);
 * Es, As, Ais and H as music21 reads them (languageExcerpts.naturalLanguageObjects: Es is E-, As is A-, H is B). A small
 * letter for a minor chord: common practice in German song books.
 */
describe('Chords by German letters, where the song says so', () => {
  it.each([
    ['C  H7  e  a', 'C B7 Em Am'],
    ['B  Es  F7  B', 'Bb Eb F7 Bb'],
    ['As  Des  Es7  As', 'Ab Db Eb7 Ab'],
    ['fis  cis7  Fism  H', 'F#m C#m7 F#m B'],
    ['D/Fis  G  A4  D', 'D/F# G Asus4 D'],
    ['Esus4  Asus4  Edim', 'Esus4 Asus4 Edim'],
    ['Gis  Ais  Ges  Ces', 'G# A# Gb Cb'],
    ['g  d7  hm7', 'Gm Dm7 Bm7'],
    ['C/H  Am/G', 'C/B Am/G'],
  ])('%s is %s', (german, chords) => {
    expect(chordsOf(read(song('Akkorde: deutsch', german)))).toBe(chords);
    expect(chordsOf(read(song('', german), { names: 'German' }))).toBe(chords);
  });

  it.each([
    ['Es', 'E♭ major'],
    ['B', 'B♭ major'],
    ['h-Moll', 'B minor'],
    ['fis moll', 'F♯ minor'],
    ['As-Dur', 'A♭ major'],
    ['d', 'D minor'],
  ])('Tonart: %s is %s', (text, key) => {
    const [first] = read(song(`Tonart: ${text}`, 'C  G')).keys;
    expect(first && Keys.sayKey(first.key)).toBe(key);
  });

  it.each([
    ['letters', 'G       C       D'],
    ['German', 'G       h       As'],
  ])('a plain line of words under its chords in %s is in no doubt', (names, chords) => {
    const line = 'Wir gehn im Licht des Morgens hin';
    const text = `T\nChords: ${names}\n\nStrophe 1\n${chords}\n${line}\n`;
    const found = WordsAndChords.lines(text)[5];
    expect([found?.as, found?.doubtful]).toEqual(['words', false]);
    expect(found?.words.filter(({ doubtful }) => doubtful)).toEqual([]);
  });

  it.each([
    ['alone', 'T\nChords: German\n\nStrophe 1\nhin des Morgens\n', 4],
    ['under chords, where half of it could be chords', 'T\nChords: German\n\nStrophe 1\nG  C\nfis des Morgens hinaus\n', 5], // prettier-ignore
  ])('a line that could be chords is in doubt %s', (_, text, at) => {
    expect(WordsAndChords.lines(text)[at]).toMatchObject({ as: 'words', doubtful: true });
  });

  it('leaves the words alone', () => {
    const score = read('T\nChords: German\n\nStrophe 1\nF      C\nEs ist ein Ros entsprungen\n');
    expect(score.bars).toHaveLength(1);
    expect(chordsOf(score)).toBe('F C');
  });

  it.each([
    ['Fis  H7  Es', 'As   cis  H'],
    ['B   F7   B', 'H7   e'],
  ])('are not taken unasked; %s, %s says what to do', (first, second) => {
    const text = `${song('', first)}${second}\nwas lost but now am found\n`;
    expect(warningsOf(text)).toContain('perhaps-names');
  });

  it('are no words that end in -in', () => {
    const found = chordsOf(read(song('Akkorde: deutsch', 'C   ein', 'bin hin')));
    expect(found).toBe('');
  });

  it('are not looked for in a plain song', () => {
    expect(warningsOf(song('Key: G', 'G   Bm   D/F#  Esus4'))).not.toContain('perhaps-names');
  });
});

/** Fixed syllables, do is C: `\italianChords` and `\frenchChords` of LilyPond (the same page). */
describe('Chords by do, re, mi, where the song says so', () => {
  it.each([
    ['Do  Sol  Lam  Fa', 'C G Am F'],
    ['Re  Fa#m  Sim7  Mi7', 'D F#m Bm7 E7'],
    ['Sib  Mib  Fa7  Sib', 'Bb Eb F7 Bb'],
    ['DO  SOL7  LAm  RÉm', 'C G7 Am Dm'],
    ['Do/Mi  Sol/Si  La-', 'C/E G/B Am'],
    ['Solsus4  Dmaj', null],
    ['Solmaj7  Simin  Do#dim', 'Gmaj7 Bm C#dim'],
  ])('%s is %s', (syllables, chords) => {
    const found = chordsOf(read(song('Chords: solfège', syllables)));
    if (chords === null) expect(found).toBe('');
    else expect(found).toBe(chords);
  });

  it('leaves words that are syllables too among the words', () => {
    const score = read(
      'T\nAcordes: solfeo\n\nEstrofa 1\nDo     Sol\nLa luz de Si mismo\n\nEstribillo\nFa  Do\nMi canto\n',
    );
    expect(chordsOf(score)).toBe('C G F C');
    expect(score.sections.map(({ kind }) => kind)).toEqual(['verse', 'refrain']);
  });
});

describe('A song that calls its chords otherwise', () => {
  it.each([
    ['Akkorde: deutsch', 'B  F7  B  H7  e'],
    ['Acordes: solfeo', 'Sib  Fa7  Sol#m'],
    ['Chords: numbers from 1-\nKey: Em', '1-  4-  b6  5'],
    ['Chords: letters', 'Bb F7 B7'],
  ])('with “%s” is written in letters and read back with the same chords', (head, chords) => {
    const score = read(song(head, chords));
    const again = read(WordsAndChords.write(score));
    expect(chordsOf(again)).toBe(chordsOf(score));
    expect(again.facts.other).toEqual([]);
  });
});

describe('Chords by small letters', () => {
  it.each([
    ['g     c     d7   g', 'G C D7 G'],
    ['em    am    b7', 'Em Am B7'],
    ['f#m   bm/a', 'F#m Bm/A'],
    ['g  C  em', 'G C Em'],
    ['g', 'G'],
  ])('%s over words is %s', (small, chords) => {
    expect(chordsOf(read(song('Key: G', small)))).toBe(chords);
  });

  it.each(['a', 'am', 'a d e', 'be a dad', 'e'])('but “%s” is words', (words) => {
    expect(chordsOf(read(song('Key: G', words)))).toBe('');
  });

  it('say that a small letter may mean minor', () => {
    expect(warningsOf(song('Key: G', 'g   d'))).toContain('chord-lower-case');
  });
});
