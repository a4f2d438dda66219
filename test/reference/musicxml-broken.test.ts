import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { MusicXml, Scores, type Result, type Score } from '#music';
import { mulberry32 } from '#test/support/chance.ts';
import { XML_DAMAGES } from '#test/support/damage-xml.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

/** Every second hymn: twelve. */
const files = HYMN_FILES.filter((_, i) => i % 2 === 0);
const texts = new Map(files.map((file) => [file, MusicXml.write(hymn(file))]));
const wholes = new Map([...texts].map(([file, text]) => [file, MusicXml.read(text)]));

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;
const used = (): number => {
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
};

const MEGABYTE = 1_000_000;
const isReservation = (code: string): boolean => !/^(info|guess)-/.test(code);

/**
 * Reads, and watches: what is read, how long the processor was at it (the wall clock would measure who else is there),
 * and how much memory more there was at its end, garbage included.
 */
function watched(input: string | Uint8Array): { read: Result<Score>; ms: number; more: number } {
  collect();
  const before = used();
  const start = process.cpuUsage();
  const read = MusicXml.read(input);
  const { user, system } = process.cpuUsage(start);
  const ms = (user + system) / 1000;
  return { read, ms, more: used() - before };
}

describe(`Broken MusicXML: ${String(XML_DAMAGES.length)} kinds of damage on ${String(files.length)} hymns`, () => {
  it('are at least 500 files, of at least 20 kinds, each with at least 12 seeds', () => {
    expect(XML_DAMAGES.length).toBeGreaterThanOrEqual(20);
    expect(files.length).toBe(12);
    expect(XML_DAMAGES.length * files.length).toBeGreaterThanOrEqual(500);
  });

  it.each(XML_DAMAGES)('$what: $outcome', { timeout: 120_000 }, ({ outcome, make }) => {
    for (const [n, file] of files.entries()) {
      const text = texts.get(file) ?? '';
      const whole = wholes.get(file);
      if (!whole?.ok) throw new Error(`${file} is not whole`);
      const seed = 2000 + n;
      const label = `${file}, seed ${String(seed)}`;
      const { read, ms, more } = watched(make(text, mulberry32(seed)));
      expect(ms, label).toBeLessThan(2000);
      expect(more / MEGABYTE, label).toBeLessThan(64);
      const said = read.ok ? read.warnings : read.problems;
      for (const { line, code, message } of said) {
        expect(line, `${label}: ${code} ${message}`).toBeGreaterThanOrEqual(1);
        expect(message, label).toMatch(/^\S.*[.!?…”)]$/s);
      }
      if (read.ok) expect(Scores.check(read.value), label).toEqual([]);
      if (!read.ok) expect(said.length, label).toBeGreaterThan(0);
      if (outcome === 'refused') expect(read.ok, label).toBe(false);
      if (outcome === 'same') expect(read.ok && read.value, label).toEqual(whole.value);
      if (outcome === 'told') {
        if (!read.ok) throw new Error(`${label}: refused. ${read.problems[0]?.message ?? ''}`);
        expect(read.warnings.filter(({ code }) => isReservation(code)).length).toBeGreaterThan(0);
      }
    }
  });
});
