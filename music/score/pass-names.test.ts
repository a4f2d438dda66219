import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { sayPasses } from '../parts/form/order-words.ts';
import { namePasses } from '../parts/form/textures.ts';
import { passesOf } from './form.ts';
import { namePass, nameVerses } from './pass-names.ts';
import type { Pass, Score, SectionKind } from './score.ts';

describe('The name of a pass', () => {
  it.each([
    ['Verse', 2, 'Verse 2'],
    ['Strophe 1', 1, 'Strophe 1'],
    ['Verse 2.', 2, 'Verse 2.'],
    ['V1', 1, 'V1'],
    ['Strophe 1', 2, 'Strophe 1, verse 2'],
    ['Verse 12', 2, 'Verse 12, verse 2'],
    ['Psalm 1898', 8, 'Psalm 1898 8'],
    ['2nd verse', 2, '2nd verse 2'],
    ['Refrain', null, 'Refrain'],
  ])('of %s with verse %s is %s', (name, verse, said) => {
    expect(namePass({ name }, verse)).toBe(said);
  });

  it.each([
    ['Verse', [1, 2], 'Verses 1 and 2'],
    ['Verse', [1, 2, 3, 4], 'Verses 1 to 4'],
    ['Verse', [1, 3, 4], 'Verses 1, 3 and 4'],
    ['Strophe 1', [1], 'Strophe 1'],
    ['Strophe 1', [1, 2, 3], 'Strophe 1, verses 1 to 3'],
  ])('of %s with verses %j is %s', (name, verses, said) => {
    expect(nameVerses({ name }, verses)).toBe(said);
  });
});

/** Sections of a bar each, and the passes through them. */
function song(names: readonly (readonly [name: string, kind: SectionKind])[], form: Pass[]): Score {
  const plain = buildScore({
    key: 'C major',
    meter: '1/4',
    voices: { tune: names.map(() => 'C4').join(' ') },
  });
  const sections = names.map(([name, kind], i) => {
    const { at, length } = plain.bars[i] ?? { at: 0, length: 0 };
    return { id: name, name, kind, from: at, to: at + length };
  });
  return { ...plain, sections, form };
}

describe('A song whose sections are called by the numbers of their verses', () => {
  const numbered = song(
    [
      ['Strophe 1', 'verse'],
      ['Refrain', 'refrain'],
      ['Strophe 2', 'verse'],
    ],
    [
      { section: 'Strophe 1', verse: 1 },
      { section: 'Refrain', verse: null },
      { section: 'Strophe 2', verse: 2 },
    ],
  );

  it('has each number once in the order of the passes, wherever that is said', () => {
    expect(passesOf(numbered).map(({ name }) => name)).toEqual(['Strophe 1', 'Refrain', 'Strophe 2']); // prettier-ignore
    expect(sayPasses(passesOf(numbered))).toBe('strophe 1, refrain, strophe 2');
    expect(namePasses(passesOf(numbered).slice(2))).toBe('Strophe 2');
  });

  it('says which verse is sung to another section’s notes', () => {
    const form = [1, 2, 3].map((verse) => ({ section: 'Strophe 1', verse }));
    const passes = passesOf({ ...numbered, form });
    expect(passes.map(({ name }) => name)).toEqual(['Strophe 1', 'Strophe 1, verse 2', 'Strophe 1, verse 3']); // prettier-ignore
    expect(sayPasses(passes)).toBe('strophe 1, verses 1 to 3');
    expect(namePasses(passes)).toBe('Strophe 1, verses 1 to 3');
    expect(namePasses(passes.slice(1))).toBe('Strophe 1, verses 2 and 3');
  });

  it('leaves out the number of the only verse that has words in it', () => {
    const form = ['Strophe 1', 'Strophe 2'].map((section) => ({ section, verse: 1 }));
    const sung = numbered.voices.map((voice) => ({
      ...voice,
      notes: voice.notes.map((note) => ({ ...note, syllables: [{ text: 'la' }] })),
    }));
    const one: Score = { ...numbered, form, voices: sung, verses: [{ number: 1, label: '' }] };
    expect(passesOf(one).map(({ name }) => name)).toEqual(['Strophe 1', 'Strophe 2']);
    expect(sayPasses(passesOf(one))).toBe('strophe 1, strophe 2');
    const again = { ...one, form: [...form, { section: 'Strophe 2', verse: 2 }] };
    expect(passesOf(again).map(({ name }) => name)).toEqual(['Strophe 1', 'Strophe 2, verse 1', 'Strophe 2']); // prettier-ignore
  });

  it('counts the times of one that is passed again with the same verse', () => {
    const form = [1, 1].map((verse) => ({ section: 'Strophe 1', verse }));
    const passes = passesOf({ ...numbered, form });
    expect(sayPasses(passes)).toBe('strophe 1 ×2');
    expect(namePasses(passes)).toBe('Strophe 1, first and second time');
    expect(namePasses(passes.slice(0, 1))).toBe('Strophe 1');
  });
});
