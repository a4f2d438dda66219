import { describe, expect, it } from 'vitest';
import { Reduction, WordsAndChords, type TextMark } from '#music';
import { integer, mulberry32, pick } from '#test/support/chance.ts';
import { WORDS_DAMAGES } from '#test/support/damage-words.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

/** Every third hymn as published, written as words with chords: eight. */
const texts = HYMN_FILES.filter((_, i) => i % 3 === 0).map((file) => ({
  file,
  text: WordsAndChords.write(Reduction.withChords(hymn(file), { density: 'bar' })),
}));
/** A text of a few hundred lines is read in some milliseconds; far above that something grows with its square. */
const SLOW_MS = 2000;

const linesIn = (text: string): number => text.split(/\r\n|\n|\r/).length;
const isReservation = (code: string): boolean => !/^guess-/.test(code);

describe(`Broken texts: ${String(WORDS_DAMAGES.length)} kinds of damage on ${String(texts.length)} songs`, () => {
  it('are at least 240, of at least 20 kinds', () => {
    expect(WORDS_DAMAGES.length).toBeGreaterThanOrEqual(20);
    expect(WORDS_DAMAGES.length * texts.length).toBeGreaterThanOrEqual(240);
  });

  it.each(WORDS_DAMAGES)('$what: $outcome', { timeout: 60_000 }, ({ outcome, make }) => {
    for (const [n, { file, text }] of texts.entries()) {
      const whole = WordsAndChords.read(text);
      if (!whole.ok) throw new Error(`${file} is not whole`);
      const label = `${file}, seed ${String(2000 + n)}`;
      const damaged = make(text, mulberry32(2000 + n));
      const began = performance.now();
      const read = WordsAndChords.read(damaged);
      const shown = WordsAndChords.lines(damaged);
      expect(performance.now() - began, label).toBeLessThan(SLOW_MS);
      const said = read.ok ? read.warnings : read.problems;
      for (const { line, code, message } of said) {
        expect(line, `${label}: ${code} ${message}`).toBeGreaterThanOrEqual(1);
        expect(line, `${label}: ${code} ${message}`).toBeLessThanOrEqual(linesIn(damaged));
        expect(message, label).toMatch(/^\S.*[.!?…”)]$/s);
      }
      for (const { reason } of shown) expect(reason, label).toMatch(/^\S.*[.!?…”)]$/s);
      if (read.ok) {
        expect(() => WordsAndChords.write(read.value), label).not.toThrow();
        expect(shown).toHaveLength(linesIn(damaged));
      }
      if (outcome === 'refused') expect(!read.ok && said.length, label).toBeGreaterThan(0);
      if (outcome === 'same') expect(read.ok && read.value, label).toEqual(whole.value);
      if (outcome === 'told') {
        if (!read.ok) throw new Error(`${label}: refused. ${read.problems[0]?.message ?? ''}`);
        const known = new Set(whole.warnings.map(({ message }) => message));
        const fresh = said.filter(
          ({ code, message }) => isReservation(code) && !known.has(message),
        );
        expect(fresh.length, label).toBeGreaterThan(0);
      }
    }
  });

  it.each(['letters', 'German', 'solfège', 'numbers'] as const)(
    'and chords called by %s: a value, no exception',
    { timeout: 60_000 },
    (names) => {
      for (const [n, { make }] of WORDS_DAMAGES.entries()) {
        const { text, file } = pick(mulberry32(n), texts);
        const damaged = make(text, mulberry32(3000 + n));
        const began = performance.now();
        const read = WordsAndChords.read(damaged, { names });
        expect(performance.now() - began, file).toBeLessThan(SLOW_MS);
        if (!read.ok) expect(read.problems[0]?.message, file).toMatch(/^\S.*[.!?…”)]$/s);
      }
    },
  );

  it('and any marks on them: a value, no exception', { timeout: 60_000 }, () => {
    const readings = ['heading', 'chords', 'words', 'nothing'] as const;
    for (let seed = 1; seed <= 60; seed += 1) {
      const chance = mulberry32(seed);
      const { text } = pick(chance, texts);
      const marks = Array.from({ length: 30 }, (): TextMark => {
        const mark = { line: integer(chance, 1, 90), as: pick(chance, readings) };
        return chance() < 0.5 ? mark : { ...mark, column: integer(chance, 1, 30) };
      });
      const read = WordsAndChords.read(text, { marks });
      if (read.ok) expect(() => WordsAndChords.write(read.value), `seed ${seed}`).not.toThrow();
      else expect(read.problems[0]?.line).toBeGreaterThanOrEqual(1);
    }
  });
});
