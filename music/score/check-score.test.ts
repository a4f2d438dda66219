import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Abc, WordsAndChords } from '#music';
import { anyScore } from '#test/support/arbitrary-score.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { buildScore } from '#test/support/score-builder.ts';
import { check, read } from './check-score.ts';
import type { Score } from './score.ts';

const song = buildScore({ key: 'G', meter: '3/4', voices: { tune: 'G4:3 | A4:3' }, words: ['la la'] }); // prettier-ignore
const first = song.voices[0];
if (!first) throw new Error('the song has a voice');
const problemOf = (value: unknown): string => {
  const result = read(value);
  return result.ok ? 'fine' : (result.problems[0]?.message ?? '');
};

describe('a score that holds together', () => {
  it.each(HYMN_FILES)('is what is read from %s', (name) => {
    const bytes = readFileSync(new URL(`../../seed-data/hymns/${name}`, import.meta.url));
    const result = Abc.read(bytes);
    if (!result.ok) throw new Error(result.problems[0]?.message);
    for (const score of result.value) expect(check(score)).toEqual([]);
  });

  it('is what is read from words with chords', () => {
    const result = WordsAndChords.read('Verse 1\nG      C\nA-mazing grace\n\nChorus\nD  G\nlamb');
    expect(result.ok && check(result.value)).toEqual([]);
  });

  it('comes back from its JSON as it was', () => {
    fc.assert(
      fc.property(anyScore, (score) => {
        const result = read(JSON.parse(JSON.stringify(score)));
        expect(result.ok ? result.value : result.problems).toEqual(score);
      }),
    );
  });

  it('has nothing more in it than a score has', () => {
    const more: unknown = JSON.parse(
      JSON.stringify({ ...song, price: 3 }).replace('{', '{"__proto__":{"price":3},'),
    );
    const result = read(more);
    expect(result.ok && result.value).toEqual(song);
    expect(result.ok && Object.keys(result.value)).not.toContain('price');
  });
});

describe('a score that does not hold together', () => {
  const broken: readonly (readonly [what: string, score: unknown])[] = [
    ['no object', 3],
    ['nothing', null],
    ['a list', [song]],
    ['no bars', { ...song, bars: [] }],
    ['a gap between bars', { ...song, bars: song.bars.map((bar, i) => (i === 1 ? { ...bar, at: bar.at + 1 } : bar)) }],
    ['a bar of no length', { ...song, bars: song.bars.map((bar) => ({ ...bar, length: 0 })) }],
    ['half a tick', { ...song, bars: song.bars.map((bar) => ({ ...bar, length: 0.5 })) }],
    ['a voice that ends early', { ...song, voices: [{ ...first, notes: first.notes.slice(0, 1) }] }],
    ['no voice of the tune', { ...song, melody: 'other' }],
    ['two voices of one name', { ...song, voices: [first, first] }],
    ['a pitch that is none', { ...song, voices: [{ ...first, notes: first.notes.map((note) => ({ ...note, pitches: ['H4'] })) }] }],
    ['a chord upside down', { ...song, voices: [{ ...first, notes: first.notes.map((note) => ({ ...note, pitches: ['G4', 'C4'] })) }] }],
    ['words of no verse', { ...song, verses: [] }],
    ['chords that overlap', { ...song, chords: [{ at: 0, length: 9, chord: null }, { at: 1, length: 9, chord: null }] }],
    ['a chord after the end', { ...song, chords: [{ at: 0, length: 999_999_999, chord: null }] }],
    ['a kind of chord that is none', { ...song, chords: [{ at: 0, length: 9, chord: { root: 'C', kind: 'loud', degrees: [], bass: null } }] }],
    ['a section too few', { ...song, sections: [{ ...song.sections[0], to: 5 }] }],
    ['a pass of no section', { ...song, form: [{ section: 'bridge', verse: null }] }],
    ['a cue outside a vamp', { ...song, sections: song.sections.map((each) => ({ ...each, loop: { cue: 'when he nods', amen: true } })) }],
    ['no key at the start', { ...song, keys: song.keys.map((key) => ({ ...key, at: 1 })) }],
    ['eight sharps', { ...song, keys: song.keys.map((key) => ({ ...key, signature: 8 })) }],
    ['a meter of thirds', { ...song, meters: [{ at: 0, meter: { beats: 3, unit: 3 } }] }],
    ['a title of a megabyte', { ...song, facts: { ...song.facts, title: 'x'.repeat(1_000_000) } }],
    ['three thousand bars', { ...song, bars: Array.from({ length: 3000 }, () => song.bars[0]) }],
    ['a compass upside down', { ...song, compass: { low: 'C5', high: 'C4', mostly: null } }],
    ['hours of passes', { ...song, bars: song.bars.map((bar) => ({ ...bar, repeatEnd: true, endings: [99] })), form: Array.from({ length: 400 }, () => song.form[0]) }],
    ['no number', { ...song, tempo: { beat: 20160, perMinute: Number.NaN } }],
  ]; // prettier-ignore

  it.each(broken)('is refused for %s', (_, score) => {
    expect(problemOf(score)).toMatch(/\.$/);
    expect(problemOf(score)).not.toBe('fine');
  });

  it('whatever JSON comes, nothing is thrown', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 6 }), (value) => {
        expect(read(value).ok).toBe(false);
      }),
    );
  });

  it('a damaged score is refused or whole, and never thrown', () => {
    const damaged = fc
      .tuple(anyScore, fc.nat(), fc.jsonValue({ maxDepth: 2 }))
      .map(([score, place, value]) => damage(score, place, value));
    fc.assert(
      fc.property(damaged, (value) => {
        const result = read(value);
        if (result.ok) expect(check(result.value)).toEqual([]);
        else expect(result.problems[0]?.message).toMatch(/\S\.$/);
      }),
      { numRuns: 300 },
    );
  });
});

/** A score as JSON in which one place, counted through all of it, holds something else. */
function damage(score: Score, place: number, value: unknown): unknown {
  const copy: unknown = JSON.parse(JSON.stringify(score));
  const places: (() => void)[] = [];
  const walk = (node: unknown): void => {
    if (typeof node !== 'object' || node === null) return;
    const record = node as Record<string, unknown>;
    for (const key of Object.keys(record)) {
      places.push(() => (record[key] = value));
      places.push(() => delete record[key]);
      walk(record[key]);
    }
  };
  walk(copy);
  places[place % places.length]?.();
  return copy;
}
