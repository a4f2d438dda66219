import fc from 'fast-check';
import {
  ChordSymbol,
  KeyFinding,
  Keys,
  QUARTER,
  type Bar,
  type ChordAt,
  type KeyAt,
  type Meter,
  type MeterAt,
  type Note,
  type Score,
  type Section,
  type Syllable,
  type Verse,
  type Voice,
} from '#music';

/**
 * Any score that ABC can hold: several voices, pickups, repeats and endings, changes of key and meter, tuplets, ties,
 * slurs, graces, fermatas, fingers, words, chords and sections at any moment. Invented data, for properties only.
 */
export const anyScore: fc.Arbitrary<Score> = fc
  .integer({ min: 1, max: 2 ** 31 - 1 })
  .map((seed) => scoreFrom(mulberry32(seed)));

export type Chance = () => number;

/** A small generator of numbers from 0 to 1 (mulberry32, public domain), so that a seed is a case. */
export function mulberry32(seed: number): Chance {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

const METERS: readonly Meter[] = [
  { beats: 4, unit: 4 },
  { beats: 3, unit: 4 },
  { beats: 6, unit: 8 },
  { beats: 2, unit: 2 },
  { beats: 9, unit: 8 },
  { beats: null, unit: 4 },
];
const LENGTHS = [4, 3, 2, 1.5, 1, 1, 1, 0.75, 0.5, 0.5, 0.25, 0.125];
const TUPLETS = [
  { actual: 3, normal: 2, unit: 0.5 },
  { actual: 3, normal: 2, unit: 1 },
  { actual: 5, normal: 4, unit: 0.25 },
  { actual: 7, normal: 4, unit: 0.25 },
  { actual: 2, normal: 3, unit: 0.5 },
];
const WORDS = [
  'praise',
  'God',
  'al',
  'le',
  'lu',
  'ia!',
  'a-b',
  'who~m',
  'x*y',
  'z_|',
  'naïve',
  '100%',
  '\\',
  'in the',
];
const CHORDS = ['C', 'Am7/G', 'F#dim', 'Bbmaj7', 'Gsus4', 'E7', 'Dm', 'Ab/C'];

export function pick<T>(chance: Chance, list: readonly T[]): T {
  return list[Math.floor(chance() * list.length)] as T;
}

function integer(chance: Chance, from: number, to: number): number {
  return from + Math.floor(chance() * (to - from + 1));
}

function scoreFrom(chance: Chance): Score {
  const { meters, bars } = frame(chance);
  const end = (bars.at(-1)?.at ?? 0) + (bars.at(-1)?.length ?? 0);
  const verseCount = integer(chance, 0, 3);
  const count = integer(chance, 1, 4);
  const voices: Voice[] = [];
  let staff = 0;
  for (let i = 0; i < count; i += 1) {
    const before = voices.at(-1);
    const joins = before !== undefined && chance() < 0.4;
    if (!joins) staff += 1;
    const clef = pick(chance, ['treble', 'bass', 'treble-8'] as const);
    const group = joins ? before.group : pick(chance, ['Hymn', 'Keyboard', 'Lead singer']);
    const id = `V${String(i + 1)}`;
    const name = chance() < 0.3 ? 'The "first" voice' : id;
    const notes = withWords(chance, notesFor(chance, bars), i === 0 ? verseCount : 0);
    voices.push({ id, name, group, staff, clef, notes });
  }
  const verses = versesFor(chance, sungVerses(voices), voices);
  const sections = sectionsFor(chance, end);
  const usual = (verses.length === 0 ? [null] : verses.map(({ number }) => number)).flatMap(
    (verse) =>
      sections.map(({ id, kind }) => ({
        section: id,
        verse: kind === 'verse' || kind === 'other' ? verse : null,
      })),
  );
  const form =
    sections.some(({ kind }) => kind === 'verse') && chance() < 0.6
      ? usual
      : [
          { section: sections[0]?.id ?? '', verse: null },
          { section: sections.at(-1)?.id ?? '', verse: 2 },
        ];
  return {
    facts: {
      title: 'A % song & more',
      subtitles: chance() < 0.5 ? ['Second \\ title'] : [],
      tune: chance() < 0.5 ? 'Invented' : null,
      hymnMeter: pick(chance, [null, '8.6.8.6', '7 7 7 7 with Alleluias', '10.10']),
      credits: chance() < 0.5 ? ["Music: 'Other Tune' Somebody, 1900.", 'Words: A.'] : [],
      rights: pick(chance, [null, 'public domain']),
      source: pick(chance, [null, 'A book', 'A book\nAnother book']),
      other:
        chance() < 0.5
          ? [
              ['OHAUTHOR', 'Who'],
              ['N', 'note'],
              ['text', 'one\ntwo'],
              ['Q', 'Slowly'],
            ]
          : [],
    },
    tempo: pick(chance, [
      null,
      { beat: QUARTER, perMinute: 100 },
      { beat: 1.5 * QUARTER, perMinute: 52.5 },
    ]),
    keys: keysFor(chance, bars, voices),
    meters,
    bars,
    voices,
    melody: pick(chance, voices).id,
    chords: chordsFor(chance, end),
    sections,
    verses,
    form,
    introduction:
      chance() < 0.5
        ? [{ from: momentIn(chance, end / 2), to: end / 2 + momentIn(chance, end / 2) || end }]
        : [],
  };
}

/** Bars with their meters. A first bar may be a pickup; repeats and endings stand on whole bars. */
function frame(chance: Chance): { meters: MeterAt[]; bars: Bar[] } {
  const count = integer(chance, 1, 9);
  let meter = pick(chance, METERS);
  const meters: MeterAt[] = [{ at: 0, meter }];
  const bars: Bar[] = [];
  const pickup = meter.beats !== null && count > 1 && chance() < 0.5;
  const repeatAt = chance() < 0.5 ? integer(chance, 0, count - 1) : -1;
  const repeatTo = repeatAt < 0 ? -1 : integer(chance, repeatAt, count - 1);
  const endings = repeatTo > repeatAt && repeatTo < count - 1 && chance() < 0.6;
  let at = 0;
  for (let i = 0; i < count; i += 1) {
    if (i > 1 && chance() < 0.15 && meter.beats !== null) {
      const next = pick(
        chance,
        METERS.filter((each) => each.beats !== null && each !== meter),
      );
      meter = next;
      meters.push({ at, meter });
    }
    const full = (meter.beats ?? integer(chance, 1, 6)) * ((4 * QUARTER) / meter.unit);
    const length = i === 0 && pickup ? QUARTER / 2 : full;
    const last = i === count - 1;
    bars.push({
      number: pickup ? i : i + 1,
      at,
      length,
      line:
        last || i === repeatTo
          ? 'final'
          : endings && i > repeatTo
            ? 'single'
            : pick(chance, ['single', 'single', 'single', 'double', 'dashed', 'none'] as const),
      repeatStart: i === repeatAt,
      repeatEnd: i === repeatTo,
      endings: !endings ? [] : i === repeatTo ? [1] : i > repeatTo ? [2] : [],
    });
    at += length;
  }
  return { meters, bars };
}

function notesFor(chance: Chance, bars: readonly Bar[]): Note[] {
  const notes: Note[] = [];
  for (const bar of bars) {
    let at = bar.at;
    const end = bar.at + bar.length;
    while (at < end) {
      const left = (end - at) / QUARTER;
      const tuplet = pick(chance, TUPLETS);
      if (chance() < 0.15 && tuplet.unit * tuplet.normal <= left) {
        const length = (tuplet.unit * QUARTER * tuplet.normal) / tuplet.actual;
        for (let n = 0; n < tuplet.actual; n += 1) {
          notes.push(noteAt(chance, at, length, { actual: tuplet.actual, normal: tuplet.normal }));
          at += length;
        }
        continue;
      }
      const length = Math.min(left, pick(chance, LENGTHS)) * QUARTER;
      notes.push(noteAt(chance, at, length));
      at += length;
    }
  }
  return joined(chance, notes, bars);
}

function noteAt(chance: Chance, at: number, length: number, tuplet?: Note['tuplet']): Note {
  const shared = { at, length, ...(tuplet && { tuplet }) };
  const fermata = chance() < 0.1 ? { fermata: true as const } : {};
  if (chance() < 0.15) {
    return { ...shared, pitches: [], ...(chance() < 0.3 && { hidden: true as const }), ...fermata };
  }
  const size = chance() < 0.25 ? integer(chance, 2, 3) : 1;
  const pitches = pitchSet(chance, size);
  return {
    ...shared,
    pitches,
    ...fermata,
    ...(chance() < 0.1 && { grace: [...pitchSet(chance, 1), ...pitchSet(chance, 1)] }),
    ...(chance() < 0.1 && { fingers: pitches.map(() => integer(chance, 1, 5)) }),
    ...(chance() < 0.1 && { signs: [pick(chance, ['trill', 'breath', '"^softly"', 'segno'])] }),
  };
}

function pitchSet(chance: Chance, size: number): string[] {
  const found = new Map<number, string>();
  while (found.size < size) {
    const letter = pick(chance, ['C', 'D', 'E', 'F', 'G', 'A', 'B']);
    const sign = pick(chance, ['', '', '', '', '#', 'b', '#', 'b', '##', 'bb']);
    const octave = integer(chance, 2, 6);
    const natural = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 }[letter] ?? 0;
    const alter = sign.startsWith('b') ? -sign.length : sign.length;
    found.set(12 * octave + natural + alter, `${letter}${sign}${String(octave)}`);
  }
  return [...found].sort(([a], [b]) => a - b).map(([, name]) => name);
}

/** Ties, slurs and beams between neighbours. */
function joined(chance: Chance, notes: readonly Note[], bars: readonly Bar[]): Note[] {
  const lines = new Set(bars.map((bar) => bar.at));
  const result = [...notes];
  for (let i = 0; i + 1 < result.length; i += 1) {
    const note = result[i] as Note;
    const next = result[i + 1] as Note;
    if (note.pitches.length === 0 || next.pitches.length === 0) continue;
    const drawn = (each: Note): number =>
      (each.length * (each.tuplet?.actual ?? 1)) / (each.tuplet?.normal ?? 1);
    const flagged = drawn(note) < QUARTER && drawn(next) < QUARTER && !lines.has(next.at);
    const kind = chance();
    if (kind < 0.15) {
      result[i] = { ...note, tie: true };
      const { fingers, ...unfingered } = next;
      result[i + 1] = {
        ...unfingered,
        pitches: note.pitches,
        ...(fingers && { fingers: note.pitches.map(() => 1) }),
      };
    } else if (kind < 0.3) {
      result[i] = { ...note, slurStarts: 1 };
      result[i + 1] = { ...next, slurEnds: 1 };
    }
    if (flagged && chance() < 0.6) result[i] = { ...(result[i] as Note), beam: true };
  }
  return result;
}

function withWords(chance: Chance, notes: readonly Note[], verses: number): Note[] {
  if (verses === 0) return [...notes];
  return notes.map((note) => {
    if (note.pitches.length === 0) return note;
    const syllables: (Syllable | null)[] = [];
    for (let verse = 0; verse < verses; verse += 1) {
      const text = pick(chance, WORDS);
      const syllable = chance() < 0.3 ? { text, hyphen: true as const } : { text };
      syllables.push(chance() < 0.25 ? null : syllable);
    }
    while (syllables.length > 0 && !syllables.at(-1)) syllables.pop();
    return syllables.length > 0 ? { ...note, syllables } : note;
  });
}

function sungVerses(voices: readonly Voice[]): number {
  return Math.max(
    0,
    ...voices.flatMap((voice) => voice.notes.map((note) => note.syllables?.length ?? 0)),
  );
}

function versesFor(chance: Chance, sung: number, voices: readonly Voice[]): Verse[] {
  const begins = (verse: number): boolean => {
    return voices.some(({ notes }) => notes.some((note) => note.syllables?.[verse]));
  };
  const labelled = chance() < 0.5;
  const verses: Verse[] = [];
  for (let i = 1; i <= sung; i += 1)
    verses.push({ number: i, label: labelled && begins(i - 1) ? `${String(i)}.` : '' });
  for (let i = 0; i < integer(chance, 0, 2); i += 1) {
    const number = verses.length + 1;
    verses.push({
      number,
      label: `${String(number)}.`,
      lines: ['The earth shall 100%', 'The sun - forbear;'],
    });
  }
  return verses;
}

function keysFor(chance: Chance, bars: readonly Bar[], voices: readonly Voice[]): KeyAt[] {
  const moments = [
    0,
    ...bars
      .slice(1)
      .map((bar) => bar.at)
      .filter(() => chance() < 0.15),
  ];
  return moments.map((at, i) => {
    const signature = integer(chance, -7, 7);
    const to = moments[i + 1] ?? Infinity;
    if (chance() < 0.5) return { at, signature, ...KeyFinding.find(signature, voices, at, to) };
    const key = Keys.keyOfSignature(
      signature,
      pick(chance, ['major', 'minor', 'dorian', 'mixolydian'] as const),
    );
    const shown = chance() < 0.7 ? signature : integer(chance, -7, 7);
    return { at, signature: shown, ...KeyFinding.named(key) };
  });
}

function momentIn(chance: Chance, end: number): number {
  return Math.floor((chance() * end) / (QUARTER / 2)) * (QUARTER / 2);
}

function momentsIn(chance: Chance, end: number, most: number): number[] {
  const moments = new Set<number>();
  for (let i = 0; i < integer(chance, 0, most); i += 1) moments.add(momentIn(chance, end));
  return [...moments].sort((a, b) => a - b);
}

function chordsFor(chance: Chance, end: number): ChordAt[] {
  const moments = momentsIn(chance, end, 6);
  return moments.map((at, i) => {
    const read = ChordSymbol.read(pick(chance, CHORDS));
    const chord = read.ok && chance() < 0.9 ? read.value : null;
    return { at, length: (moments[i + 1] ?? end) - at, chord };
  });
}

function sectionsFor(chance: Chance, end: number): Section[] {
  const moments = [...new Set([0, ...momentsIn(chance, end, 3)])];
  const kinds = [
    ['Verse', 'verse'],
    ['Refrain', 'refrain'],
    ['Bridge', 'bridge'],
    ['Part [two]', 'other'],
  ] as const;
  const seen = new Map<string, number>();
  return moments.map((from, i) => {
    const [name, kind] = i === 0 ? kinds[0] : pick(chance, kinds);
    const slug = name === 'Part [two]' ? 'part-two' : name.toLowerCase();
    const count = (seen.get(slug) ?? 0) + 1;
    seen.set(slug, count);
    const id = count === 1 ? slug : `${slug}-${String(count)}`;
    return { id, kind, name, from, to: moments[i + 1] ?? end };
  });
}
