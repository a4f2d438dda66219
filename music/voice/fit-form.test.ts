import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { hymn } from '#test/support/hymn.ts';
import type { ArrangedPass } from '../parts/arrangement.ts';
import { QUARTER, type Score } from '../score/score.ts';
import { front, passes, rowsOf, table, worstOf } from './key-fit.ts';
import { rankOf } from './placed.ts';
import type { Singer } from './range.ts';

const NEW_BRITAIN = hymn('Amazing_Grace-New_Britain.abc');
const VERSE = NEW_BRITAIN.sections[0]?.id ?? '';
const singer = (id: string, low: string, high: string): Singer => ({
  id,
  name: id,
  comfortable: { low, high },
});
const ADA = singer('Ada', 'A3', 'D5');
const TOMAS = singer('Tomas', 'A2', 'E4');
const form = (...ups: number[]): ArrangedPass[] =>
  ups.map((up, i) => ({ section: VERSE, verse: i + 1, ...(up === 0 ? {} : { up }) }));
const inKey = (tonic: string) => (row: { key: { tonic: string } }) => row.key.tonic === tonic;

describe('a voice where it has a song worst', () => {
  it('is as in the song’s key where no pass is raised', () => {
    const plain = table(NEW_BRITAIN, [ADA], { form: form(0, 0) });
    expect(plain.worst).toBeUndefined();
    expect(worstOf(plain)).toBe(rowsOf(plain));
  });

  it('is that of the raised verse, in its words, under the song’s own key', () => {
    const fit = table(NEW_BRITAIN, [ADA, TOMAS], { form: form(0, 0, 0, 2) });
    const row = worstOf(fit).find(inKey('G'));
    // D5 of the printed tune is E5 in A; it stands for 7 of 48 quarters (counted on the sheet: bars 7 and 8).
    expect(row).toMatchObject({ voice: 'Ada', verdict: 'outside', shareOutside: 7 / 48 });
    expect(row?.where).toBe('in verse 4, up a whole step');
    expect(row?.reason).toMatch(
      /^In verse 4, up a whole step, too high for Ada: bar 7 holds E5 for/,
    );
    expect(row?.interval).toEqual({ steps: 0, semitones: 0 });
    expect(rowsOf(fit).find(inKey('G'))?.verdict).toBe('works');
  });

  it('tells of all that is sung there together, and of nothing that is sung elsewhere', () => {
    const tune = buildScore({ key: 'C', meter: '4/4', voices: { tune: 'E4:2 G4:2 | C5:4' } });
    const song: Score = {
      ...tune,
      sections: [
        { id: 'v', kind: 'verse', name: 'Verse', from: 0, to: 4 * QUARTER },
        { id: 'r', kind: 'refrain', name: 'Refrain', from: 4 * QUARTER, to: 8 * QUARTER },
      ],
    };
    const asked = [
      { section: 'v', verse: 1 },
      { section: 'r', verse: null },
      { section: 'r', verse: null, up: 3 },
    ];
    const row = (sung: ArrangedPass[]) =>
      worstOf(table(song, [singer('Bo', 'C4', 'D5')], { form: sung })).find(inKey('C'));
    expect(row(asked)).toMatchObject({ shareOutside: 1, high: 'Eb5' });
    expect(row(asked)?.where).toBe('in the refrain, second time, up a minor third');
    // The high refrain is only sung a fifth lower: no voice has to reach C5.
    const low = [asked[0] as ArrangedPass, { section: 'r', verse: null, up: -5 }];
    expect(row(low)).toMatchObject({ high: 'G4', verdict: 'easy' });
  });

  it('of a tune of which only the compass is known the ends are moved too', () => {
    const compass = { low: 'D4', high: 'D5', mostly: null };
    const voices = NEW_BRITAIN.voices.map((voice) => ({ ...voice, notes: [] }));
    const song: Score = { ...NEW_BRITAIN, voices, compass };
    const [own, worst] = [rowsOf, worstOf].map((rows) =>
      rows(table(song, [ADA], { form: form(0, 2) })).find(inKey('G')),
    );
    expect(own).toMatchObject({ known: 'ends', high: 'D5', verdict: 'works' });
    expect(worst).toMatchObject({ high: 'E5', where: 'in verse 2, up a whole step' });
    expect(worst?.verdict).toBe('edge');
  });

  it('is never better than in any pass of a song that has one section', () => {
    const ups = fc.array(fc.integer({ min: -5, max: 5 }), { minLength: 1, maxLength: 4 });
    const reads = fc.constantFrom<Singer['reads'][]>(undefined, 'as written', 'free');
    fc.assert(
      fc.property(ups, reads, (own, octave) => {
        const voices = [ADA, TOMAS].map(({ ...each }): Singer =>
          octave ? { ...each, reads: octave } : each,
        );
        const fit = table(NEW_BRITAIN, voices, { form: form(...own) });
        for (const key of fit.keys)
          for (const [at, { id }] of voices.entries()) {
            const row = worstOf(fit).find((each) => each.key === key && each.voice === id);
            const sung = passes(NEW_BRITAIN, voices, key, { form: form(...own) }).passes;
            const fits = sung.flatMap((pass) => pass.voices[at] ?? []);
            const most = Math.max(...fits.map(({ verdict }) => rankOf(verdict)));
            expect(rankOf(row?.verdict ?? 'easy')).toBe(most);
            const shares = fits
              .filter(({ verdict }) => rankOf(verdict) === most)
              .map(({ shareOutside }) => shareOutside);
            expect(row).toMatchObject({ shareOutside: Math.max(...shares) });
          }
      }),
      { numRuns: 60 },
    );
  });
});

describe('the keys that stay, with a verse that is raised', () => {
  const ask = (...ups: number[]) =>
    front(table(NEW_BRITAIN, [ADA, TOMAS], { form: form(...ups) }), { lead: 'Ada' });

  it('carry it: no pass lies outside for the lead', () => {
    const found = ask(0, 0, 0, 2);
    expect(found.rows.length).toBeGreaterThan(0);
    for (const { key } of found.rows)
      for (const { voices } of passes(NEW_BRITAIN, [ADA], key, { form: form(0, 0, 0, 2) }).passes)
        expect(voices[0]?.shareOutside).toBe(0);
  });

  it('are fewer than without: the key that only fits before the change is dropped with its reason', () => {
    expect(ask(0, 0, 0, 0).rows.some(inKey('G'))).toBe(true);
    const found = ask(0, 0, 0, 2);
    expect(found.rows.some(inKey('G'))).toBe(false);
    expect(found.dropped.find(inKey('G'))?.because.join()).toMatch(
      /^In verse 4, up a whole step, too high for Ada/,
    );
    expect(found.suggestion?.key.tonic).not.toBe('G');
  });

  it('say in the costs where it is', () => {
    const fit = table(NEW_BRITAIN, [TOMAS, ADA], { form: form(0, 0, 0, 3) });
    const row = front(fit, { lead: 'Ada' }).rows.find(inKey('E'));
    expect(row?.costs[1]?.words).toBe('Ada: works in verse 4, up a minor third');
  });
});
