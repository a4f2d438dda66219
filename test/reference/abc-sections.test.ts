import { describe, expect, it } from 'vitest';
import { Abc, QUARTER, type Score } from '#music';
import { readByAbcjs } from '#test/support/abcjs-reader.ts';

/**
 * What the ABC standard 2.1 (December 2011) says, by its sections. Independent reading of notes: abcjs 6.7.2; where it does not
 * follow the standard, it is given the same music written out.
 */
const tune = (head: string, body: string): string => `X:1\nT:Piece\n${head}\nK:C\n${body}\n`;

function read(text: string): Score[] {
  const result = Abc.read(text);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}

const codes = (text: string): string[] => {
  const result = Abc.read(text);
  return (result.ok ? result.warnings : result.problems).map(({ code }) => code);
};

const notesOf = (score: Score | undefined): unknown =>
  score?.voices.map(({ notes }) =>
    notes
      .filter(({ pitches }) => pitches.length > 0)
      .map(({ at, length, pitches, tie }) => ({ at, length, pitches, tied: tie === true })),
  );

const formOf = (text: string): string =>
  read(text)[0]
    ?.form.map(({ section, verse }) => section + (verse === null ? '' : String(verse)))
    .join(' ') ?? '';

describe('2.2.2 File header', () => {
  it('holds for every tune of the file', () => {
    const text = 'M:3/4\nL:1/4\n\nX:1\nT:a\nK:C\nC3|]\n\nX:2\nT:b\nK:G\nC3|]\n';
    expect(read(text).map(({ bars }) => (bars[0]?.length ?? 0) / QUARTER)).toEqual([3, 3]);
    expect(read(text).map(({ meters }) => meters[0]?.meter.beats)).toEqual([3, 3]);
  });

  it('and a tune says otherwise for itself', () => {
    const text =
      'M:3/4\nL:1/4\n\nX:1\nT:a\nK:C\nC3|]\n\nX:2\nT:b\nM:2/4\nL:1/8\nK:G\nC4|]\n\nX:3\nT:c\nK:C\nC3|]\n';
    expect(read(text).map(({ bars }) => (bars[0]?.length ?? 0) / QUARTER)).toEqual([3, 2, 3]);
  });
});

describe('3.1.9 Parts', () => {
  const body = 'P:A\nC4|\nP:B\nD4|\nP:C\nE4|]';

  it.each([
    ['ABAC', 'a b a c'],
    ['A.B.A C', 'a b a c'],
    ['A2(BC)2', 'a a b c b c'],
    ['((AB)2.C)2', 'a b a b c a b a b c'],
  ])('the order %s', (order, form) => {
    expect(formOf(tune(`M:4/4\nL:1/4\nP:${order}`, body))).toBe(form);
  });

  it('with the n-th verse the n-th time, where a part comes once for each', () => {
    const words = 'P:A\nC4|\nw:one\nw:two\nP:B\nD4|]\nw:ref';
    expect(formOf(tune('M:4/4\nL:1/4\nP:ABAB', words))).toBe('a1 b1 a2 b2');
    expect(formOf(tune('M:4/4\nL:1/4\nP:AB', words))).toBe('a1 b1 a2 b2');
  });

  it('that names a part the tune has not is told, and the usual form taken', () => {
    const text = tune('M:4/4\nL:1/4\nP:ABX', body);
    expect(codes(text)).toContain('order-odd');
    expect(formOf(text)).toBe('a b c');
  });

  it('and an order without end stays one that can be counted', () => {
    const order = '('.repeat(15) + 'A' + ')99'.repeat(15);
    expect(formOf(tune(`M:4/4\nL:1/4\nP:${order}`, body))).toBe('a b c');
  });
});

describe('4.8 to 4.10 Repeats and endings', () => {
  it.each<[string, number[][]]>([
    ['|:C4|1 D4:|2 E4|]', [[], [1], [2]]],
    ['|:C4|[1,3 D4:|[2,4 E4:|]', [[], [1, 3], [2, 4]]],
    ['|:C4|[1-3 D4:|[4 E4|]', [[], [1, 2, 3], [4]]],
  ])('%s', (body, endings) => {
    const [score] = read(tune('M:4/4\nL:1/4', body));
    expect(score?.bars.map((bar) => bar.endings)).toEqual(endings);
    expect(score?.bars.map((bar) => bar.repeatStart)).toEqual([true, false, false]);
  });
});

describe('The notes of', () => {
  it.each([
    ['4.4 broken rhythm through spaces', 'M:4/4\nL:1/8', 'A > B c < d A>>B c<<<d|]'],
    ['4.11 ties of chords and over bar lines', 'M:4/4\nL:1/4', '[CEG]2-[CEG]2|C4-|C2 z2|]'],
    ['4.13 tuplets with all their figures', 'M:4/4\nL:1/8', '(3:2CDE (3::2CD z (3:2:4CDEF z2|]'],
    ['4.13 tuplets of six and nine', 'M:4/4\nL:1/8', '(6CDEFGA (9CDEFGABcd z4|]'],
    ['4.17 chords of unequal lengths', 'M:4/4\nL:1/4', '[C2E2G2][C/E/]z/ z|]'],
    [
      '3.2 changes of key, meter and unit inside',
      'M:4/4\nL:1/4',
      'C4|[K:G]F4|[M:3/4]F3|[L:1/8]F6|]',
    ],
    [
      '7.2 two voices by turns',
      'M:4/4\nL:1/4\nV:1\nV:2 clef=bass',
      'V:1\nC4|\nV:2\nC,4|\n[V:1]D4|]\n[V:2]D,4|]',
    ],
  ])('%s', (_, head, body) => {
    const text = tune(head, body);
    expect(notesOf(read(text)[0])).toEqual(readByAbcjs(text).map(({ notes }) => notes));
  });

  // In compound meters p notes of 5, 7 and 9 go into the time of three (4.13); abcjs plays them in the time of two.
  it('4.13 tuplets of five and seven in 6/8', () => {
    const text = (five: string, seven: string): string => tune('M:6/8\nL:1/8', `${five}CDEFG C D E|${seven}CDEFGAB C3|]`); // prettier-ignore
    const theirs = readByAbcjs(text('(5:3:5', '(7:3:7'));
    expect(notesOf(read(text('(5', '(7'))[0])).toEqual(theirs.map(({ notes }) => notes));
  });
});

describe('9 Macros', () => {
  it.each([
    ['9.1 a static one', 'm: ~G2 = {A}G{F}G', '~G2 C2|]', '{A}G{F}G C2|]'],
    [
      '9.2 a transposing one',
      'm: ~n2 = {o}n{m}n',
      '~G2 ~B2|~c2 ~C,2|]',
      '{A}G{F}G {c}B{A}B|{d}c{B}c {D,}C,{B,,}C,|]',
    ],
    ['9.2 a triplet', 'm: ~n3 = (3o/n/m/ n2', '~g3 C|]', '(3a/g/f/ g2 C|]'],
    [
      'not in a longer length, in words or in signs',
      'm: G2 = A2',
      '"G2"G2 !fermata!G2|G20|]',
      '"G2"A2 !fermata!A2|G20|]',
    ],
  ])('%s', (_, macro, body, written) => {
    const head = 'M:none\nL:1/4';
    const withMacro = read(tune(`${head}\n${macro}`, body))[0];
    const text = tune(head, written);
    expect(withMacro?.voices).toEqual(read(text)[0]?.voices);
    expect(notesOf(withMacro)).toEqual(readByAbcjs(text).map(({ notes }) => notes));
  });

  it('that makes a line without end is refused', () => {
    const long = Array.from(
      { length: 9 },
      (_, i) => `m: ${'hijklopqrs'.charAt(i)} = ${'hijklopqrs'.charAt(i + 1).repeat(90)}`,
    );
    expect(codes(tune(`M:none\nL:1/4\n${long.join('\n')}`, 'h'.repeat(90)))).toContain(
      'macro-too-long',
    );
  });
});
