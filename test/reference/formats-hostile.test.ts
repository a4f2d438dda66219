import { readFileSync } from 'node:fs';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { Midi, MusicXml, SongFiles, WordsAndChords, type SongFormat } from '#music';
import { mulberry32, type Chance } from '#test/support/chance.ts';
import { MIDI_DAMAGES } from '#test/support/damage-midi.ts';
import { WORDS_DAMAGES } from '#test/support/damage-words.ts';
import { XML_DAMAGES } from '#test/support/damage-xml.ts';
import { DAMAGES } from '#test/support/damage.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

const SEEDS = 12;
/** Milliseconds of work that no file may take; of work, so that a busy machine does not count. */
const LIMIT = 2000;
/** Bytes from which three seeds are enough: what makes a file so large does not depend on the seed. */
const LARGE = 300_000;
/** Bytes that the heap may have grown by once a file is read and let go. */
const GROWTH = 64 * 2 ** 20;

interface Case {
  readonly format: SongFormat;
  readonly what: string;
  readonly make: (file: string, chance: Chance) => Uint8Array;
}

const bytesOf = (made: string | Uint8Array): Uint8Array =>
  typeof made === 'string' ? new TextEncoder().encode(made) : made;
const abcOf = (file: string): string =>
  readFileSync(new URL(`../../seed-data/hymns/${file}`, import.meta.url), 'latin1');

const once = new Map<string, string | Uint8Array>();
/** A hymn in a format, written once. */
function kept<T extends string | Uint8Array>(name: string, make: () => T): T {
  const found = once.get(name) ?? make();
  once.set(name, found);
  return found as T;
}

const CASES: readonly Case[] = [
  ...DAMAGES.map(({ what, make }): Case => ({
    format: 'abc',
    what,
    make: (file, chance) => bytesOf(make(abcOf(file), chance)),
  })),
  ...WORDS_DAMAGES.map(({ what, make }): Case => ({
    format: 'words',
    what,
    make: (file, chance) => {
      const text = kept(`words ${file}`, () => WordsAndChords.write(hymn(file)));
      return bytesOf(make(text, chance));
    },
  })),
  ...XML_DAMAGES.map(({ what, make }): Case => ({
    format: 'musicxml',
    what,
    make: (file, chance) => {
      const text = kept(`musicxml ${file}`, () => MusicXml.write(hymn(file)));
      return bytesOf(make(text, chance));
    },
  })),
  ...MIDI_DAMAGES.map(({ what, make }): Case => ({
    format: 'midi',
    what,
    make: (file, chance) =>
      make(
        kept(`midi ${file}`, () => Midi.write(hymn(file))),
        chance,
      ),
  })),
];

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** Bytes in use once nothing is held that need not be. */
function used(): number {
  collect();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

describe(`Damaged files of all formats: ${String(CASES.length)} kinds of damage, ${String(SEEDS)} seeds each`, () => {
  it('are at least 500, of at least 20 kinds in every format', () => {
    expect(CASES.length * SEEDS).toBeGreaterThanOrEqual(500);
    for (const format of ['abc', 'words', 'musicxml', 'midi']) {
      const kinds = CASES.filter((each) => each.format === format).map(({ what }) => what);
      expect(new Set(kinds).size, format).toBeGreaterThanOrEqual(20);
    }
  });

  it.each(CASES)('$format: $what', { timeout: 120_000 }, ({ format, make }) => {
    const before = used();
    for (let seed = 1; seed <= SEEDS; seed += 1) {
      // Every second hymn: those that have everything that is damaged.
      const file = HYMN_FILES[(seed * 2) % HYMN_FILES.length] ?? '';
      const bytes = make(file, mulberry32(5000 + seed));
      const label = `${file}, seed ${String(seed)}`;
      if (bytes.length > LARGE && seed > 3) break;
      const start = process.cpuUsage();
      const results = [SongFiles.read(bytes, format)];
      const { user, system } = process.cpuUsage(start);
      expect((user + system) / 1000, `${label}: milliseconds`).toBeLessThan(LIMIT);
      // As the bytes themselves say what they are.
      if (seed <= 2) results.push(SongFiles.read(bytes));
      for (const result of results) {
        const said = result.ok ? result.warnings : result.problems;
        if (!result.ok) expect(said.length, label).toBeGreaterThan(0);
        if (result.ok) expect(result.value.scores.length, label).toBeGreaterThan(0);
        for (const { code, message } of said) {
          expect(code, label).toMatch(/^[a-z0-9-]+$/);
          expect(message, `${label}: ${code}`).toMatch(/^\S.*[.!?…”)]$/s);
          expect(message.length, `${label}: ${code}`).toBeLessThan(1000);
        }
      }
    }
    expect(used() - before).toBeLessThan(GROWTH);
  });
});

describe('Damaged MIDI files', () => {
  it.each(MIDI_DAMAGES)('$what: $outcome', ({ outcome, make }) => {
    for (let seed = 1; seed <= SEEDS; seed += 1) {
      const file = HYMN_FILES[(seed * 5) % HYMN_FILES.length] ?? '';
      const whole = Midi.read(kept(`midi ${file}`, () => Midi.write(hymn(file))));
      const read = Midi.read(
        make(
          kept(`midi ${file}`, () => Midi.write(hymn(file))),
          mulberry32(seed),
        ),
      );
      const label = `${file}, seed ${String(seed)}`;
      if (outcome === 'refused') expect(read.ok, label).toBe(false);
      if (outcome === 'same') expect(read.ok && read.value, label).toEqual(whole.ok && whole.value);
      if (outcome === 'told') {
        const known = new Set(whole.ok ? whole.warnings.map(({ code }) => code) : []);
        const said = read.ok ? read.warnings : read.problems;
        expect(said.filter(({ code }) => !known.has(code)).length, label).toBeGreaterThan(0);
      }
    }
  });
});
