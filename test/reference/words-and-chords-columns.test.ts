import { describe, expect, it } from 'vitest';
import { Keys, WordsAndChords, type Score } from '#music';

function read(text: string): Score {
  const result = WordsAndChords.read(text);
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

const warningsOf = (text: string): string[] => {
  const result = WordsAndChords.read(text);
  return result.ok ? result.warnings.map(({ code }) => code) : [];
};

describe('A text in two columns', () => {
  const left = ['Verse 1', 'G        C       G', 'Amazing grace how sweet', 'D              G', 'that saved a wretch like me', 'I once was lost but now', 'was blind but now I see']; // prettier-ignore
  const right = ['Verse 2', 'G         C        G', 'Twas grace that taught my', 'D             G', 'and grace my fears relieved', 'how precious did that grace', 'the hour I first believed']; // prettier-ignore
  const beside = (gap: number) =>
    left.map((line, i) => line.padEnd(28 + gap) + (right[i] ?? '')).join('\n');

  it.each([3, 5, 20])('%i blanks apart is read as one column', (gap) => {
    const one = `Amazing Grace\n\n${left.join('\n')}\n\n${right.join('\n')}`;
    const two = `Amazing Grace\n\n${beside(gap)}`;
    expect(read(two)).toEqual(read(one));
    expect(warningsOf(two)).toContain('guess-two-columns');
    expect(warningsOf(one)).not.toContain('guess-two-columns');
  });

  it('under two headings, however short, is read as one column', () => {
    const short =
      'Verse 1                   Verse 2\nG          C              G          C\nHow sweet the name        It makes the wounded\n';
    const score = read(`T\n\n${short}`);
    expect(score.sections.map(({ name }) => name)).toEqual(['Verse 1', 'Verse 2']);
  });

  it('keeps what stands over both', () => {
    const text = `A title that is rather longer than one of its two columns\nKey: G\n\n${beside(4)}`;
    const score = read(text);
    expect(score.facts.title).toBe('A title that is rather longer than one of its two columns');
    expect(score.sections.map(({ name }) => name)).toEqual(['Verse 1', 'Verse 2']);
    expect(Keys.sayKey(score.keys[0]?.key ?? { tonic: 'C', mode: 'minor' })).toBe('G major');
  });

  const columnsOf = (left: readonly string[], right: readonly string[]): string =>
    Array.from({ length: Math.max(left.length, right.length) }, (_, i) =>
      `${(left[i] ?? '').padEnd(30)}${right[i] ?? ''}`.trimEnd(),
    ).join('\n');
  const formOf = (text: string): string[] => {
    const { form, sections } = read(text);
    return form.map(({ section }) => sections.find(({ id }) => id === section)?.name ?? '');
  };
  const verse = (n: number): string[] => [`Verse ${n}`, 'G        C', `how sweet the name ${n}`, 'D        G', `it makes the wounded ${n}`]; // prettier-ignore
  const CHORUS = ['Chorus', 'C        G', 'sing it again']; // prettier-ignore
  const two = columnsOf(verse(1), verse(2));

  it.each([
    ['a chorus', two, CHORUS, ['Verse 1', 'Chorus', 'Verse 2', 'Chorus']],
    [
      'a chorus with lines wider than the first column',
      two,
      [
        'Refrain',
        'C                               G',
        'and all that is within me sing it again and again',
      ],
      ['Verse 1', 'Refrain', 'Verse 2', 'Refrain'],
    ],
    [
      'a chorus and an ending',
      two,
      [...CHORUS, '', 'Ending', 'G', 'amen we sing'],
      ['Verse 1', 'Chorus', 'Verse 2', 'Chorus', 'Ending'],
    ],
    [
      'a chorus, four verses above',
      columnsOf([...verse(1), '', ...verse(2)], [...verse(3), '', ...verse(4)]),
      CHORUS,
      ['Verse 1', 'Chorus', 'Verse 2', 'Chorus', 'Verse 3', 'Chorus', 'Verse 4', 'Chorus'],
    ],
    [
      'a chorus, a bridge in the second column',
      columnsOf([...verse(1)], [...verse(2), '', 'Bridge', 'Em', 'ever on']),
      CHORUS,
      ['Verse 1', 'Chorus', 'Verse 2', 'Bridge', 'Chorus'],
    ],
  ])(
    'with %s below both: it comes after each verse, and that is said',
    (_, columns, foot, form) => {
      const text = `T\n\n${columns}\n\n${foot.join('\n')}\n`;
      expect(formOf(text)).toEqual(form);
      const result = WordsAndChords.read(text);
      const said = result.ok && result.warnings.find(({ code }) => code === 'guess-two-columns');
      expect(said && said.message).toContain(`“${foot[0] ?? ''}” stands below both, so it comes after each verse.`); // prettier-ignore
      expect(result.ok && result.warnings.map(({ code }) => code)).not.toContain('heading-alone');
    },
  );

  it('with a chorus in each of them are sung as they stand', () => {
    const text = `T\n\n${columnsOf([...verse(1), '', ...CHORUS], [...verse(2), '', ...CHORUS])}\n`;
    expect(formOf(text)).toEqual(['Verse 1', 'Chorus', 'Verse 2', 'Chorus']);
    expect(warningsOf(text)).toContain('guess-two-columns');
  });
});
