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
  type Score,
  type Section,
  type Verse,
  type Voice,
} from '#music';
import { notesFor, withWords } from '#test/support/arbitrary-notes.ts';
import { integer, mulberry32, pick, type Chance } from '#test/support/chance.ts';

/**
 * Any score that ABC can hold: several voices, pickups, repeats and endings, changes of key and meter, tuplets, ties,
 * slurs, graces, fermatas, fingers, words, chords and sections at any moment. Invented data, for properties only.
 */
export const anyScore: fc.Arbitrary<Score> = fc
  .integer({ min: 1, max: 2 ** 31 - 1 })
  .map((seed) => scoreFrom(mulberry32(seed)));

const METERS: readonly Meter[] = [
  { beats: 4, unit: 4 },
  { beats: 3, unit: 4 },
  { beats: 6, unit: 8 },
  { beats: 2, unit: 2 },
  { beats: 9, unit: 8 },
  { beats: null, unit: 4 },
];
const CHORDS = ['C', 'Am7/G', 'F#dim', 'Bbmaj7', 'Gsus4', 'E7', 'Dm', 'Ab/C'];

const TEMPOS: readonly Score['tempo'][] = [
  null,
  { beat: QUARTER, perMinute: 100 },
  { beat: 1.5 * QUARTER, perMinute: 52.5 },
];

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
  const tempo = pick(chance, TEMPOS);
  // Without one at the start, what is said in a pickup would be the first.
  const tempoChanges = momentsIn(chance, end, tempo ? 4 : 0)
    .filter((at) => at > 0)
    .map((at, i) => ({ at, tempo: { beat: QUARTER * (1 + (i % 2)), perMinute: 61 + i } }));
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
    tempo,
    ...(tempoChanges.length > 0 && { tempoChanges }),
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
