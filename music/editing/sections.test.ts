import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { check } from '../score/check-score.ts';
import type { Score } from '../score/score.ts';
import { sungPasses } from '../score/sung-lines.ts';
import { apply, say, type Edit } from './editing.ts';

const song = buildScore({
  key: 'G',
  meter: '4/4',
  voices: { tune: 'G4:4 | A4:4 | B4:4 | C5:4' },
  words: ['one two three four', 'un deux * *'],
});

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

const order = ({ form }: Score): string =>
  form.map(({ section, verse }) => `${section}${verse === null ? '' : ` ${verse}`}`).join(', ');

const refrain: Edit = { do: 'begin section', bar: 2, kind: 'refrain', name: 'Refrain' };

describe('sections', () => {
  it('begin with a bar, and the song is sung as before', () => {
    const two = edited(song, refrain);
    expect(two.sections.map(({ id, name }) => `${id} ${name}`)).toEqual(['verse Verse', 'refrain Refrain']); // prettier-ignore
    // The refrain has words of one verse only, so it is the same each time.
    expect(order(two)).toBe('verse 1, refrain, verse 2, refrain');
    expect(order(edited(song, { ...refrain, bar: 1 }))).toBe('verse 1, refrain 1, verse 2, refrain 2'); // prettier-ignore
    expect(edited(two, { do: 'join section', id: 'refrain' })).toEqual(song);
  });

  it('begin with a note inside a bar, as a refrain on its own pickup, and are joined again', () => {
    const upbeat = buildScore({
      key: 'G',
      meter: '3/4',
      voices: { tune: 'D4:1 | G4:2 B4:1 | A4:2 r:1/2 D4:1/2 | G4:3 | G4:2' },
      words: ['O one two three sing four five'],
    });
    // Beat 3½ of bar 2: the pickup (1), bar 1 (3) and 2½ quarters.
    const at = 6.5 * 20160;
    const onPickup: Edit = { do: 'begin section', bar: 2, at, kind: 'refrain', name: 'Refrain' };
    const two = edited(upbeat, onPickup);
    expect(two.sections.map(({ from, to }) => [from / 20160, to / 20160])).toEqual([[0, 6.5], [6.5, 12]]); // prettier-ignore
    expect(say(upbeat, onPickup)).toBe('Refrain begins with bar 2, beat 3½');
    const sung = sungPasses(two).map(({ lines }) => lines.flat().map(({ text }) => text).join(' ')); // prettier-ignore
    expect(sung).toEqual(['O one two three', 'sing four five']);
    expect(edited(two, { do: 'join section', id: 'refrain' })).toEqual(upbeat);
    expect(refusal(upbeat, { ...onPickup, at: 5 * 20160 })).toBe('Bar 2, beat 2: no note of the tune begins there, so no section can.'); // prettier-ignore
    expect(refusal(upbeat, { ...onPickup, bar: 1 })).toBe('That place lies outside the bar.');
    expect(refusal(two, { ...onPickup, name: 'Again' })).toBe('Refrain begins with bar 2, beat 3½ already. Change that section, or join it to the one before.'); // prettier-ignore
  });

  it('are refused where one begins already, or without a name', () => {
    expect(refusal(song, { ...refrain, bar: 0 })).toBe('Verse begins with bar 1 already. Change that section, or join it to the one before.'); // prettier-ignore
    expect(refusal(song, { ...refrain, name: ' ' })).toBe('A section needs a name.');
    expect(refusal(song, { do: 'join section', id: 'verse' })).toBe('Verse is the first section; there is none before it.'); // prettier-ignore
  });

  it('a vamp has its cue, nothing else has one', () => {
    const loop = { cue: 'after the prayer', amen: true };
    const vamp: Edit = { do: 'section', id: 'verse', kind: 'vamp', name: 'Under the prayer', loop };
    expect(edited(song, vamp).sections[0]).toMatchObject({ kind: 'vamp', loop });
    expect(edited(song, vamp, { ...vamp, kind: 'verse', loop: null }).sections[0]).not.toHaveProperty('loop'); // prettier-ignore
    expect(refusal(song, { ...vamp, kind: 'bridge' })).toBe('Only a vamp is left on a cue; Under the prayer is none.'); // prettier-ignore
    expect(say(song, vamp)).toBe('Verse becomes Under the prayer');
  });

  it('stand in an order that names only what there is', () => {
    const twice: Edit = { do: 'form', form: [{ section: 'verse', verse: 2 }, { section: 'verse', verse: 1 }] }; // prettier-ignore
    expect(order(edited(song, twice))).toBe('verse 2, verse 1');
    expect(say(song, twice)).toBe('Order of the song: Verse 2, Verse 1');
    expect(refusal(song, { do: 'form', form: [{ section: 'verse', verse: 3 }] })).toBe('The song has no verse 3.'); // prettier-ignore
    expect(refusal(song, { do: 'form', form: [{ section: 'tag', verse: null }] })).toBe('The order names a section that the song has not.'); // prettier-ignore
    expect(refusal(song, { do: 'form', form: [] })).toBe('A song is sung in at least one pass.');
  });
});

describe('several edits together', () => {
  it('are one step; where one is refused none is done', () => {
    const both: Edit = { do: 'together', edits: [{ do: 'insert bars', bar: 4, count: 1 }, { do: 'note', voice: 'tune', at: 16 * 20160, length: 20160, pitches: ['D5'] }] }; // prettier-ignore
    expect(edited(song, both).bars).toHaveLength(5);
    expect(say(song, both)).toBe('One bar put in at the end. Bar 5, beat 1: D5, a quarter');
    expect(refusal(song, { do: 'together', edits: [...both.edits, { do: 'erase', voice: 'tune', at: 17 * 20160 }] })).toBe('Bar 5, beat 2: there is only a rest.'); // prettier-ignore
  });
});

describe('facts, tempo and compass', () => {
  it('are set, tidied and refused', () => {
    expect(edited(song, { do: 'facts', facts: { title: ' A\u0000 new\nname ' } }).facts.title).toBe('A new name'); // prettier-ignore
    expect(refusal(song, { do: 'facts', facts: { title: '  ' } })).toBe('A song needs a title.');
    const compass = { low: 'A3', high: 'D5', mostly: { low: 'D4', high: 'A4' } };
    expect(edited(song, { do: 'compass', compass }).compass).toEqual(compass);
    expect(say(song, { do: 'compass', compass })).toBe('The tune lies from A3 to D5, mostly D4 to A4'); // prettier-ignore
    expect(edited(song, { do: 'compass', compass }, { do: 'compass', compass: null })).toEqual(song); // prettier-ignore
    expect(refusal(song, { do: 'compass', compass: { low: 'D5', high: 'A3', mostly: null } })).toBe('The lowest note, D5, lies above the highest, A3.'); // prettier-ignore
    expect(refusal(song, { do: 'compass', compass: { ...compass, mostly: { low: 'G3', high: 'A4' } } })).toBe('Where it mostly lies, G3 to A4, goes beyond A3 to D5.'); // prettier-ignore
    expect(refusal(song, { do: 'tempo', tempo: { beat: 20160, perMinute: 4000 } })).toMatch(/^A tempo lies between/); // prettier-ignore
  });
});
