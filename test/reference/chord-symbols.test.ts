import { readFileSync } from 'node:fs';
import { Note } from 'tonal';
import { describe, expect, it } from 'vitest';
import {
  CHORD_KINDS,
  ChordSymbol,
  Pitches,
  type Chord,
  type ChordDegree,
  type ChordKind,
} from '#music';

function file(path: string): string {
  return readFileSync(new URL(path, import.meta.url), 'utf8');
}

/** The schema as W3C publishes it: MusicXML 4.0, musicxml.xsd. */
const schema = file('./musicxml-4.0/musicxml.xsd');
const kindValue =
  /<xs:simpleType name="kind-value">(.*?)<\/xs:simpleType>/su.exec(schema)?.[1] ?? '';

/** What the words of the schema's own documentation mean as intervals above the root. */
const WORDS: Readonly<Record<string, readonly string[]>> = {
  'major second': ['2M'],
  'minor third': ['3m'],
  'major third': ['3M'],
  'perfect fourth': ['4P'],
  'diminished fifth': ['5d'],
  'perfect fifth': ['5P'],
  'augmented fifth': ['5A'],
  'added sixth': ['6M'],
  'diminished seventh': ['7d'],
  'minor seventh': ['7m'],
  'major seventh': ['7M'],
  'major ninth': ['9M'],
  'perfect 11th': ['11P'],
  'major 13th': ['13M'],
};

/** `major-sixth (major triad, added sixth)` → the intervals, one definition leaning on another. */
function definitions(): ReadonlyMap<string, readonly string[]> {
  const written = new Map(
    [...kindValue.matchAll(/^\s*([a-z0-9-]+) \(([^)]+)\)$/gmu)].map((m) => [
      m[1] ?? '',
      m[2] ?? '',
    ]),
  );
  const intervals = (words: string): string[] =>
    words.split(', ').flatMap((word) => {
      const known = WORDS[word];
      if (known) return [...known];
      const name = word.replace(/ triad$/, '').replace('dominant-seventh', 'dominant');
      const leaned = written.get(name);
      return leaned === undefined ? [`? ${word}`] : intervals(leaned);
    });
  return new Map([...written].map(([kind, words]) => [kind, ['1P', ...intervals(words)]]));
}

describe('The kinds of chord', () => {
  it('are the 33 of the W3C schema, in its order', () => {
    const listed = [...kindValue.matchAll(/<xs:enumeration value="([^"]+)"/gu)].map((m) => m[1]);
    expect(listed).toHaveLength(33);
    expect([...CHORD_KINDS]).toEqual(listed);
  });

  it('have the tones that the schema defines in words', () => {
    const defined = definitions();
    // The schema defines pedal by its bass alone.
    const kinds = CHORD_KINDS.filter((kind) => defined.has(kind) && kind !== 'pedal');
    expect(kinds).toHaveLength(25);
    for (const kind of kinds) {
      for (const root of ['C', 'F#', 'Bb', 'E']) {
        const tones = ChordSymbol.tonesOf({ root, kind, degrees: [], bass: null });
        const theirs = (defined.get(kind) ?? []).map((name) => Note.transpose(root, name));
        expect([kind, ...tones]).toEqual([kind, ...theirs]);
      }
    }
  });
});

interface Row {
  readonly text: string;
  readonly kind: string;
  readonly chord: Chord;
}

/** What a kind is called where the file gives no text for it (common practice). */
const USUAL: Readonly<Record<string, string>> = {
  minor: 'm',
  diminished: 'dim',
  dominant: '7',
  'major-seventh': 'maj7',
  'minor-seventh': 'm7',
  'half-diminished': 'm7b5',
  'minor-sixth': 'm6',
  'major-ninth': 'maj9',
  'minor-ninth': 'm9',
};

function rows(): Row[] {
  const lines = file('./tables/chord-symbols.csv').trim().split('\n');
  return lines
    .filter((line) => !line.startsWith('#'))
    .slice(1)
    .map((line) => {
      const [root = '', kind = '', said = '', degreeText = '', bass = ''] = line.split(',');
      const degrees = degreeText
        .split(';')
        .filter(Boolean)
        .map((each): ChordDegree => {
          const [type = '', value, alter] = each.split(' ');
          return { type: type as ChordDegree['type'], value: Number(value), alter: Number(alter) };
        });
      const signs = (alter: number) => (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter));
      const unsaid = degrees.map((d) => `(${signs(d.alter)}${d.value})`).join('');
      const saidDegrees = said.includes(String(degrees[0]?.value ?? 'x')) || said.includes('sus');
      const body = (said || (USUAL[kind] ?? '')) + (saidDegrees ? '' : unsaid);
      const text = root + body + (bass === '' ? '' : `/${bass}`);
      const chord: Chord = {
        root,
        kind: kind as ChordKind,
        degrees,
        bass: bass === '' ? null : bass,
      };
      return { text, kind, chord };
    });
}

/** Public-domain lead sheets in MusicXML: see the head of the table. */
describe('Chord symbols met in lead sheets', () => {
  const all = rows();
  const valid = all.filter((row) => (CHORD_KINDS as readonly string[]).includes(row.kind));
  const sounding = (chord: Chord) => [...ChordSymbol.pitchClassesOf(chord)].sort((a, b) => a - b);

  it('are all read from their text, or refused with a reason', () => {
    const refused = all.flatMap((row) => {
      const read = ChordSymbol.read(row.text);
      return read.ok ? [] : [`${row.text}: ${read.problems.map((each) => each.message).join(' ')}`];
    });
    expect(refused).toEqual([]);
    expect(all).toHaveLength(289);
  });

  it('sound as their kind and degrees say', () => {
    for (const row of valid) {
      const read = ChordSymbol.read(row.text);
      if (!read.ok) throw new Error(row.text);
      expect([row.text, ...sounding(read.value)]).toEqual([row.text, ...sounding(row.chord)]);
      expect([read.value.root, read.value.bass]).toEqual([row.chord.root, row.chord.bass]);
    }
    expect(valid).toHaveLength(283);
  });

  it('are written and read back', () => {
    for (const row of valid) {
      const back = ChordSymbol.read(ChordSymbol.write(row.chord));
      expect(back.ok && back.value).toEqual(ChordSymbol.canonical(row.chord));
      if (row.chord.bass) expect(Pitches.isNoteName(row.chord.bass)).toBe(true);
    }
  });
});
