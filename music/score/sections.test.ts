import { describe, expect, it } from 'vitest';
import { Abc, HymnMeter, MusicXml, type Score } from '#music';

function read(text: string): { score: Score; said: Record<string, string> } {
  const result = Abc.read(text);
  const score = result.ok ? result.value[0] : undefined;
  if (!result.ok || !score) throw new Error('a tune');
  return { score, said: Object.fromEntries(result.warnings.map(({ code, message }) => [code, message])) }; // prettier-ignore
}

const HEAD = 'X:1\nT:New Britain\nM:3/4\nL:1/4\nK:G\n';
/** New Britain with the words of John Newton (public domain), its first two lines and its last two. */
const tune = (first: readonly string[], last: readonly string[]): string =>
  [
    `${HEAD}D|G2(B/2G/2)|B2A|G2E|D2D|G2(B/2G/2)|B2A|d3-|d2|`,
    ...first.map((words) => `w:${words}`),
    'B|d2(B/2d/2)|B2G|D2E|(GG)E|D2D|G2(B/2G/2)|B2A|G3-|G2|]',
    ...last.map((words) => `w:${words}`),
    '',
  ].join('\n');
const ONE = 'A-ma-zing_ grace! how sweet the sound That saved_ a wretch like me!';
const TWO = "'Twas grace that_ taught my heart to fear, And grace_ my fears re-lieved;";
const LAST = 'I once_ was lost but now_ am found, Was blind_ but now I see.';

const names = ({ sections }: Score): string[] => sections.map(({ name }) => name);

describe('Words that are printed once for several verses', () => {
  it('are the refrain where each verse has whole lines before them, which is told', () => {
    const { score, said } = read(tune([ONE, TWO], [LAST]));
    expect(names(score)).toEqual(['Verse', 'Refrain']);
    expect(said['guess-refrain']).toContain('From “I” to the end');
  });

  it.each([
    ['one syllable', "'Twas"],
    ['three syllables', "'Twas grace that_"],
    ['half a line', "'Twas grace that_ taught my"],
  ])('are not, where the second verse has %s: it lacks its words', (_, second) => {
    const { score, said } = read(tune([ONE, second], [LAST]));
    expect(names(score)).toEqual(['Verse']);
    expect(said).not.toHaveProperty('guess-refrain');
    expect(said['words-missing']).toMatch(/^From “\S+” to the end only the first verse has words\. Verse 2 has no whole line/); // prettier-ignore
    // The whole tune is read, its meter from all of the first verse: no “1 with refrain”.
    expect(HymnMeter.of(score).name ?? '').not.toContain('refrain');
    expect(HymnMeter.of(score).refrain).toEqual([]);
  });

  it('are not, where one of three verses has but a syllable', () => {
    const { score, said } = read(tune([ONE, TWO, 'Through'], [LAST]));
    expect(names(score)).toEqual(['Verse']);
    expect(said['words-missing']).toContain('Verse 3 has no whole line');
  });

  it('are told in MusicXML too', () => {
    const { score } = read(tune([ONE, "'Twas"], [LAST]));
    const back = MusicXml.read(MusicXml.write(score));
    if (!back.ok) throw new Error(back.problems[0]?.message);
    expect(names(back.value)).toEqual(['Verse']);
    expect(back.warnings.map(({ code }) => code)).toContain('words-missing');
  });
});
