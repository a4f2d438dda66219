import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { check } from '../score/check-score.ts';
import { QUARTER, type Score } from '../score/score.ts';
import { apply, wordsBegin, wordsOf, type Edit } from './editing.ts';
import { stepsOf, textOf } from './syllables.ts';

const tune = buildScore({
  key: 'G',
  meter: '4/4',
  voices: { tune: 'G4 A4 B4 c5 | D5:4 | r:4 | G4 G4 A4:2~ | A4:4'.replace('c5', 'C5') },
});

const lay = (text: string, verse = 1): Edit => ({ do: 'words', section: 'verse', verse, text });

function edited(score: Score, ...edits: readonly Edit[]): Score {
  return edits.reduce((before, edit) => {
    const result = apply(before, edit);
    if (!result.ok) throw new Error(result.problems[0]?.message);
    expect(check(result.value)).toEqual([]);
    return result.value;
  }, score);
}

function refusal(score: Score, edit: Edit): string {
  const result = apply(score, edit);
  return result.ok ? 'done' : (result.problems[0]?.message ?? '');
}

const sung = (score: Score, verse = 0): string =>
  (score.voices[0]?.notes ?? [])
    .map(({ syllables }) => {
      const syllable = syllables?.[verse];
      return syllable ? syllable.text + (syllable.hyphen ? '-' : '') : '.';
    })
    .join(' ');

describe('words as they are typed', () => {
  it.each([
    ['A-ma-zing grace', 'A- ma- zing grace'],
    ['A- ma- zing\n grace ', 'A- ma- zing grace'],
    ['Glo-_-ri-a', 'Glo- _ ri- a'],
    ['grace_ how', 'grace _ how'],
    ['grace — how, “sweet”', 'grace — how, “sweet”'],
    ['mer-', 'mer'],
    ['in\u00A0the', 'in the'],
    ['-', ''],
  ])('%j are %j', (text, steps) => {
    const said = stepsOf(text).map((step) => (step === 'hold' ? '_' : step.text + (step.hyphen ? '-' : ''))); // prettier-ignore
    expect(said.join(' ')).toBe(steps);
  });

  it('come back as text', () => {
    for (const text of [
      'A-ma-zing grace',
      'Glo-_ri-a',
      'grace_ how',
      '_la',
      'in\u00A0the well\u2010known',
    ]) {
      expect(textOf(stepsOf(text))).toBe(text);
    }
  });
});

describe('words under a tune', () => {
  it('stand under its notes in order, neither under rests nor under what a tie holds on', () => {
    const laid = edited(tune, lay('A-ma-zing grace! How\nsweet the sound'));
    expect(sung(laid)).toBe('A- ma- zing grace! How . sweet the sound .');
    expect(laid.verses).toEqual([{ number: 1, label: '' }]);
    expect(laid.form).toEqual([{ section: 'verse', verse: 1 }]);
    expect(wordsOf(laid, 'verse', 1)).toBe('A-ma-zing grace!\nHow sweet the sound');
  });

  it('begin with a later note where they are told to, and those before are sung to nothing', () => {
    const from = 2 * QUARTER;
    const laid = edited(tune, {
      do: 'words',
      section: 'verse',
      verse: 1,
      text: 'grace how',
      from,
    });
    expect(sung(laid)).toBe('. . grace how . . . . . .');
    expect([wordsBegin(laid, 'verse', 1), wordsOf(laid, 'verse', 1)]).toEqual([from, 'grace how']);
    const back = edited(laid, lay('grace how'));
    expect(sung(back)).toBe('grace how . . . . . . . .');
    expect(wordsBegin(edited(back, lay('')), 'verse', 1)).toBe(null);
    const late: Edit = { do: 'words', section: 'verse', verse: 1, text: 'one', from: 15 * QUARTER };
    expect(refusal(tune, late)).toBe('Bar 4, beat 4: no note of Verse follows that words could stand under.'); // prettier-ignore
    expect(refusal(tune, { ...late, from: 99 * QUARTER })).toBe('That place lies outside the song.'); // prettier-ignore
  });

  it('end with the notes that “_” holds the last syllable over, and come back so', () => {
    const laid = edited(tune, lay('A-ma-zing _ grace _ _'));
    const syllables = laid.voices[0]?.notes.flatMap((note) => note.syllables?.[0] ?? []);
    expect(syllables?.map(({ held }) => held)).toEqual([undefined, undefined, undefined, 2]);
    expect(wordsOf(laid, 'verse', 1)).toBe('A-ma-zing_ grace__');
    expect(wordsOf(edited(laid, lay('A-ma-zing _ grace _')), 'verse', 1)).toBe('A-ma-zing_ grace_');
    expect(refusal(tune, lay('one _ _ _ _ _ _ _'))).toBe('done');
    expect(refusal(tune, lay('one _ _ _ _ _ _ _ _'))).toMatch(/more than notes\.$/);
  });

  it('too many are refused with how many, too few are said', () => {
    expect(refusal(tune, lay('one two three four five six se-ven eight nine'))).toBe(
      'Verse 1: two syllables more than notes.',
    );
    const result = apply(tune, lay('one two three'));
    expect(result.ok && result.warnings.map(({ message }) => message)).toEqual([
      'Verse 1: five notes more than syllables.',
    ]);
  });

  it('that part ways in one line name that line', () => {
    const first = edited(tune, lay('A-ma-zing grace!\nHow sweet the sound.'), lay('la la la la! La la la la.', 2)); // prettier-ignore
    expect(refusal(first, lay('’Twas grace that taught\nmy poor heart to fear', 2))).toBe(
      'Verse 2, line 2: one syllable more than notes.',
    );
  });

  it('of a second verse label both, and a usual form sings both', () => {
    const laid = edited(tune, lay('one two three four'), lay('Three four five six', 2));
    expect(laid.verses.map(({ label }) => label)).toEqual(['1.', '2.']);
    expect(laid.form.map(({ verse }) => verse)).toEqual([1, 2]);
    expect(sung(laid, 1)).toBe('Three four five six . . . . . .');
    const back = edited(laid, { do: 'remove verse', verse: 1 });
    expect(sung(back, 0)).toBe('Three four five six . . . . . .');
    expect(back.form.map(({ verse }) => verse)).toEqual([2]);
  });

  it('a verse takes its place by its number', () => {
    const laid = edited(tune, lay('three', 3), lay('one', 1));
    expect(laid.verses.map(({ number }) => number)).toEqual([1, 3]);
    expect([sung(laid, 0).slice(0, 3), sung(laid, 1).slice(0, 5)]).toEqual(['one', 'three']);
  });

  it('take the place of the lines below the music once all of these are there', () => {
    const printed: Score = { ...tune, verses: [{ number: 1, label: '1.', lines: ['How sweet', 'the sound'] }] }; // prettier-ignore
    expect(edited(printed, lay('How sweet the sound')).verses).toEqual([
      { number: 1, label: '1.' },
    ]);
    const some = apply(printed, lay('How sweet'));
    expect(some.ok && some.value.verses).toEqual(printed.verses);
    expect(some.ok && some.warnings.at(-1)?.message).toMatch(/stay below the music\.$/);
  });

  it('one syllable is set and taken away; a rest bears none', () => {
    const at = 3 * QUARTER;
    const set = edited(tune, { do: 'syllable', at, verse: 1, syllable: { text: ' grace ' } });
    expect(sung(set)).toBe('. . . grace . . . . . .');
    const gone = edited(set, { do: 'syllable', at, verse: 1, syllable: null });
    expect(sung(gone)).toBe('. . . . . . . . . .');
    expect(refusal(tune, { do: 'syllable', at: 8 * QUARTER, verse: 1, syllable: { text: 'la' } })).toBe('Bar 3, beat 1: words need a note, and here is a rest.'); // prettier-ignore
  });
});
