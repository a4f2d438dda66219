import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Abc } from '#music';
import { mulberry32 } from '#test/support/chance.ts';
import { DAMAGES } from '#test/support/damage.ts';

const folder = new URL('../../seed-data/hymns/', import.meta.url);
/** Every second hymn as published: twelve. */
const files = readdirSync(folder)
  .filter((file) => file.endsWith('.abc'))
  .filter((_, i) => i % 2 === 0);
const texts = new Map(files.map((file) => [file, readFileSync(new URL(file, folder), 'latin1')]));

function linesIn(input: string | Uint8Array): number {
  const text = typeof input === 'string' ? input : Buffer.from(input).toString('latin1');
  return text.split(/\r\n|\n|\r/).length;
}

const isReservation = (code: string): boolean => !/^(info|guess)-/.test(code);

describe(`Broken texts: ${String(DAMAGES.length)} kinds of damage on ${String(files.length)} hymns`, () => {
  it('are at least 240, of at least 20 kinds', () => {
    expect(DAMAGES.length).toBeGreaterThanOrEqual(20);
    expect(files.length).toBe(12);
  });

  // The seconds only watch for hangs; they measure nothing.
  it.each(DAMAGES)('$what: $outcome', { timeout: 60_000 }, ({ outcome, make }) => {
    for (const [n, file] of files.entries()) {
      const text = texts.get(file) ?? '';
      const whole = Abc.read(text);
      if (!whole.ok) throw new Error(`${file} is not whole`);
      const seed = 1000 + n;
      const damaged = make(text, mulberry32(seed));
      const read = Abc.read(damaged);
      const said = read.ok ? read.warnings : read.problems;
      const lines = linesIn(damaged);
      const label = `${file}, seed ${String(seed)}`;
      for (const { line, code, message } of said) {
        expect(line, `${label}: ${code} ${message}`).toBeGreaterThanOrEqual(1);
        expect(line, `${label}: ${code} ${message}`).toBeLessThanOrEqual(lines);
        expect(message, label).toMatch(/^\S.*[.!?…”)]$/s);
      }
      if (!read.ok) expect(said.length, label).toBeGreaterThan(0);
      if (outcome === 'refused') expect(read.ok, label).toBe(false);
      if (outcome === 'same') expect(read.ok && read.value, label).toEqual(whole.value);
      if (outcome === 'told') {
        if (!read.ok) throw new Error(`${label}: refused. ${read.problems[0]?.message ?? ''}`);
        const known = new Set(whole.warnings.map(({ message }) => message));
        const fresh = read.warnings.filter(
          ({ code, message }) => isReservation(code) && !known.has(message),
        );
        expect(fresh.length, label).toBeGreaterThan(0);
      }
    }
  });
});
