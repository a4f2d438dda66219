import { describe, expect, it } from 'vitest';
import { of } from './words-sheets.ts';
import type { ChordOver, WordsLine, WordsSheet } from './words-sheet.ts';
import { choices } from '../hand/played-key.ts';
import type { Arrangement } from '../parts/arrangement.ts';
import { read as readWords } from '../formats/words-and-chords.ts';
import { chords as readChords } from '../score/reduction.ts';
import type { Score } from '../score/score.ts';
import { placeOf } from '../score/time.ts';
import { say } from '../pitch/chord-symbol.ts';
import { layOut } from '../parts/laid-out.ts';
import { overRoots } from '../parts/played-chords.ts';
import { ENGLISH } from '../pitch/says.ts';
import { sungPasses } from '../score/sung-lines.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';

const INES = { name: 'Ines', role: 'guitar' } as const;

function sheetOf(
  score: Score,
  change: Partial<Arrangement> = {},
  options: Parameters<typeof of>[3] = {},
): WordsSheet {
  const key = score.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
  const made = of(score, { key, tempo: null, density: 'bar', ...change }, INES, options);
  if (!made.ok) throw new Error(made.problems[0]?.message);
  return made.value;
}

const sayOver = (chord: ChordOver | null): string =>
  chord === null ? '' : chord.again ? `(${chord.name})` : `[${chord.name}]`;
/** `[G]Amazing grace`: a line with its chords in it, `(G)` one that goes on; `~` where the word goes on, `__` where it is held. */
const sayLine = ({ pieces }: WordsLine): string =>
  pieces
    .map(
      ({ chord, text, goesOn, held, bar, beats = 1 }) =>
        `${bar ? '| ' : ''}${sayOver(chord)}${'·'.repeat(beats - 1)}${held ? '__' : ''}${text}${goesOn ? '~' : ' '}`,
    )
    .join('')
    .trim();
const sayPass = (sheet: WordsSheet, name: string): string[] =>
  sheet.passes.find((pass) => pass.name === name)?.lines.map(sayLine) ?? [];
const bare = (line: string): string =>
  line
    .replace(/\[[^\]]*\]|\([^)]*\)|~/g, '')
    .replace(/\s+/g, ' ')
    .trim();

function typed(text: string): Score {
  const read = readWords(text);
  if (!read.ok) throw new Error(read.problems[0]?.message);
  return read.value;
}

describe('New Britain, as printed in seed-data/hymns (Open Hymnal Project)', () => {
  const score = hymn('Amazing_Grace-New_Britain.abc');
  const sheet = sheetOf(score);

  it('has the words of its stanzas, a line of the poem each', () => {
    expect(sayPass(sheet, 'Verse 1').map(bare)).toEqual([
      'Amazing grace! How sweet the sound',
      'That saved a wretch like me!',
      'I once was lost, but now am found;',
      'Was blind, but now I see.',
    ]);
    expect(sayPass(sheet, 'Verse 2').map(bare)[0]).toBe(
      "'Twas grace that taught my heart to fear,",
    );
  });

  it('has each chord over the syllable that is sung when it comes', () => {
    expect(sayPass(sheet, 'Verse 1')[1]).toBe('(G)That saved a wretch [D7]like [G]me!');
    // Every chord of the reading over its root, where its bar and beat have it, once in each verse.
    const found = readChords(score, { density: 'bar' }).chords.filter(({ at, length }) => placeOf(score, at + length - 1).bar > 0); // prettier-ignore
    const names =
      sayPass(sheet, 'Verse 3')
        .join(' ')
        .match(/\[[^\]]*\]/g) ?? [];
    expect(names).toEqual(
      found.map(({ chord }) => `[${chord ? say({ ...chord, bass: null }) : 'N.C.'}]`),
    );
  });

  it('leaves the pickup to the singers: the first chord stands over “maz”', () => {
    expect(sayPass(sheet, 'Verse 1')[0]).toMatch(/^A~\[G\]mazing/);
  });

  it('begins with the introduction that the other parts have', () => {
    const [introduction] = sheet.passes;
    expect(introduction?.name).toBe('Introduction');
    expect(introduction?.directions).toEqual(['bars 13 to 16; the singers rest']);
    // Bars 13 to 16 of the tune, in 3/4: a dot for each beat that a chord of a divided bar goes on.
    expect(introduction?.lines.map(sayLine)).toEqual(['[Em]· [G] | [G]· [D7] | [G] | [G]']);
    expect(sheet.order).toBe('introduction once, then verses 1 to 7');
    expect(sheet.heading).toMatchObject({ title: 'Amazing Grace', key: 'G major', meter: '3/4', countIn: 'count 1 2 3 | (play)' }); // prettier-ignore
  });

  it('says which verses have no chords over them, as they are not under the notes', () => {
    expect(sayPass(sheet, 'Verse 6')[0]).toBe('The earth shall soon dissolve like snow,');
    expect(sheet.remarks.join()).toContain('Verse 6 and Verse 7');
  });

  it('with a capo has the shape, what it sounds, and how', () => {
    const played = choices({ tonic: 'G', mode: 'major' }, {}, 'guitar')[0] ?? null;
    const capo = sheetOf(score, {}, { played });
    expect(capo.heading).toMatchObject({
      key: 'E major',
      played: { words: 'capo 3: shapes of E, it sounds in G' },
    });
    const piece = capo.passes[1]?.lines[0]?.pieces[1];
    expect(piece?.chord).toEqual({ name: 'E', sounds: 'G' });
    expect(sheet.passes[1]?.lines[0]?.pieces[1]?.chord).toEqual({ name: 'G', sounds: null });
  });

  it('is in the arrangement’s key and order, with texture and lead in rubric', () => {
    const form = [
      { section: 'verse', verse: 1, texture: 'held' },
      { section: 'verse', verse: 3, texture: 'every beat', ending: 'broad' },
    ] as const;
    const own = sheetOf(score, { key: { tonic: 'A', mode: 'major' }, form }, { names: { lead: 'Ada' } }); // prettier-ignore
    expect(own.passes.map(({ name, directions }) => [name, directions])).toEqual([
      ['Introduction', ['bars 13 to 16; the singers rest']],
      ['Verse 1', ['held', 'Ada leads']],
      [
        'Verse 3',
        [
          'on every beat',
          'Ada leads',
          'broad ending: the last line full, broader at its end, its last note held until all let go',
        ],
      ],
    ]);
    expect(sayPass(own, 'Verse 1')[1]).toBe('(A)That saved a wretch [E7]like [A]me!');
  });
});

describe('A refrain', () => {
  it('is printed once, and then by its name alone', () => {
    const sheet = sheetOf(hymn('Blessed_Assurance-Blessed_Assurance-Assurance.abc'));
    const refrains = sheet.passes.filter(({ name }) => name === 'Refrain');
    expect(refrains.map(({ lines }) => lines.length > 0)).toEqual([true, false, false]);
    expect(sheet.passes.filter(({ name }) => name.startsWith('Verse')).every(({ lines }) => lines.length > 0)).toBe(true); // prettier-ignore
  });
});

describe('Where a chord falls between syllables', () => {
  const score = songOf('"C"C2 "F"C2 | "G"z2 "C"D "N.C."E |', ['Glo- ri- a'], 'M:4/4\nL:1/4');

  it('it stands by itself: on a held note, on a rest, after the last word', () => {
    const held = songOf('"C"C2- "F"C2 | "G"z2 "C"D "Am"E | "F"F4 |', ['Glo- _ ri- a oh'], 'M:4/4\nL:1/4'); // prettier-ignore
    const verse = sheetOf(held).passes.find(({ name }) => name.startsWith('Verse'));
    expect(verse?.lines.map(sayLine)).toEqual(['[C]Glo~[F]__~[G]~[C]ri~[Am]a [F]oh']);
    expect(verse?.lines[0]?.pieces[1]).toEqual({ chord: { name: 'F', sounds: null }, text: '', goesOn: true, held: true }); // prettier-ignore
  });

  it('it never moves to the next syllable: bar 13 of Coronation, beat 3, is still “Lord”', () => {
    const score = hymn('All_Hail_The_Power_Of_Jesus_Name-Coronation.abc');
    const last = sayPass(sheetOf(score), 'Verse 1').at(-1);
    expect(last).toMatch(/\[G\]Lord \[D7\]__ of \[G\]all\.$/);
  });

  it.each(HYMN_FILES)(
    '%s: each chord stands over the syllable that begins with it, or over none',
    (file) => {
      const score = hymn(file);
      const key = score.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
      const laid = layOut(score, { key, tempo: null, density: 'bar' }, ENGLISH);
      if (!laid.ok) throw new Error(laid.problems[0]?.message);
      const { whole } = laid.value;
      const sung = sungPasses({ ...whole, chords: overRoots(whole) });
      const { passes } = sheetOf(score);
      let checked = 0;
      for (const [index, { lines }] of passes.entries()) {
        if (index === 0 || lines.length === 0) continue;
        const pieces = sung[index]?.lines.flat() ?? [];
        const letters = (text: string) => [...text.replace(/\s/g, '')];
        const starts = pieces.flatMap(({ text, at }) => letters(text).map(() => at));
        const times = pieces.flatMap(({ chord, at }) => (chord === null ? [] : [at]));
        let before = 0;
        for (const { chord, text } of lines.flatMap((line) => line.pieces)) {
          if (chord && !chord.again) {
            const at = times.shift() ?? NaN;
            if (text !== '') expect(starts[before], chord.name).toBe(at);
            else expect(starts[before] ?? Infinity, chord.name).toBeGreaterThan(at);
            expect(starts[before - 1] ?? -1).toBeLessThan(at);
            checked += 1;
          }
          before += letters(text).length;
        }
        expect(times).toEqual([]);
      }
      expect(checked).toBeGreaterThan(0);
    },
  );

  it('no chord has its own name', () => {
    const verse = sheetOf(score).passes.find(({ name }) => name.startsWith('Verse'));
    expect(verse?.lines.map(sayLine).join()).toContain('[N.C.]');
  });
});

describe('A chord that goes on where a new line begins', () => {
  // Common practice: what only reminds stands in parentheses.
  const score = songOf(
    '"C"C4 | C2 C2 | C4 | "G"G3 G | "F"F4 | F4 |]',
    ['One. Two three. Four five. And six. Oh.'],
    'M:4/4\nL:1/4',
  );
  const verseOf = (sheet: WordsSheet) => sheet.passes.find(({ name }) => name.startsWith('Verse'));

  it('is named again where it is played over a bar line there, and not over an upbeat', () => {
    const lines = verseOf(sheetOf(score))?.lines.map(sayLine);
    expect(lines).toEqual([
      '[C]One.',
      '(C)Two three.',
      '(C)Four [G]five.',
      'And [F]six.',
      '(F)Oh.',
    ]);
  });

  it('has both what is played and what sounds, as any other', () => {
    const played = choices({ tonic: 'C', mode: 'major' }, {}, 'guitar')[0] ?? null;
    const [first, second] = verseOf(sheetOf(score, {}, { played }))?.lines ?? [];
    const chord = first?.pieces[0]?.chord;
    expect(second?.pieces[0]?.chord).toEqual({ ...chord, again: true });
  });

  it('says nothing of no chord', () => {
    const rests = songOf('"C"C4 | "N.C."C4 | C4 |]', ['One, And. Two.'], 'M:4/4\nL:1/4');
    expect(verseOf(sheetOf(rests))?.lines.map(sayLine)).toEqual(['[C]One,', '[N.C.]And.', 'Two.']);
  });
});

describe('A song that was typed', () => {
  const TEXT =
    'The Lamp\n\nTime: 3/4\n\nIntro\nG  D\n\nVerse 1\nG        D\nA lamp in the window\n\nRefrain\nC\nBurn low\n\nVerse 2\nno chords here\n\nRefrain\n';
  const sheet = sheetOf(typed(TEXT), {}, { names: { lead: 'Ada' } });

  it('is printed as it was typed, section by section, with no count that nobody knows', () => {
    expect(sheet.passes.map(({ name, lines }) => [name, lines.map(sayLine)])).toEqual([
      ['Intro', ['[G] [D]']],
      ['Verse 1', ['[G]A lamp in [D]the window']],
      ['Refrain', ['[C]Burn low']],
      ['Verse 2', ['no chords here']],
      ['Refrain', []],
    ]);
    expect(sheet.heading).toMatchObject({ title: 'The Lamp', meter: '3/4', countIn: '' });
    expect(sheet.order).toBe('intro, verse 1, refrain, verse 2, refrain');
  });

  it('says which section has no chords', () => {
    expect(sheet.remarks).toEqual(['Verse 2 has no chords of its own; Verse 1 has.']);
  });

  it('moves to another key', () => {
    const own = sheetOf(typed(TEXT), { key: { tonic: 'A', mode: 'major' } });
    expect(sayPass(own, 'Verse 1')).toEqual(['[A]A lamp in [E]the window']);
  });

  it('says where the key changes', () => {
    const own = sheetOf(typed('T\nKey: D\n\nVerse 1\nD\na b\n\nKey: E\nVerse 2\nE\nc d'));
    expect(own.passes.map(({ directions }) => directions)).toEqual([[], ['now in E major']]);
  });
});

describe('A raised verse', () => {
  it('is headed by its key, and first of all says how it steps there', () => {
    const score = hymn('Amazing_Grace-New_Britain.abc');
    const last = score.form.length - 1;
    const form = score.form.map((pass, i) =>
      i === last ? { ...pass, texture: 'broken' as const, up: 2 } : pass,
    );
    const { passes } = sheetOf(score, { form });
    expect(passes.at(-2)?.name).toBe(`Verse ${score.form[last - 1]?.verse ?? ''}`);
    expect(passes.at(-1)?.name).toBe(`Verse ${score.form[last]?.verse ?? ''}, in A major`);
    expect(passes.at(-1)?.directions.slice(0, 2)).toEqual([
      'straight up a whole step, into A major',
      'broken',
    ]);
  });
});
