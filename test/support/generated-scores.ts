import fc from 'fast-check';
import {
  CHORD_KINDS,
  Pitches,
  QUARTER,
  type Chord,
  type Note,
  type Score,
  type Voice,
} from '#music';
import { buildScore } from './score-builder.ts';

const PITCHES = [
  'C4',
  'Db4',
  'D4',
  'D#4',
  'E4',
  'F4',
  'F#4',
  'G4',
  'Ab4',
  'A4',
  'Bb4',
  'B4',
  'F##4',
  'Bbb4',
  'C5',
];
const METERS = ['4/4', '3/4', '6/8', '2/2', '9/8', '5/8', '3/2'];
const KEYS = ['C', 'F#', 'Gb', 'E minor', 'Bb', 'D dorian', 'C# minor'];

const chord: fc.Arbitrary<Chord | null> = fc.option(
  fc.record({
    root: fc.constantFrom('C', 'F#', 'Bb', 'Ebb', 'G##'),
    kind: fc.constantFrom(...CHORD_KINDS),
    degrees: fc.array(
      fc.record({
        type: fc.constantFrom('add', 'alter', 'subtract'),
        value: fc.integer({ min: 1, max: 13 }),
        alter: fc.integer({ min: -1, max: 1 }),
      }),
      { maxLength: 2 },
    ),
    bass: fc.option(fc.constantFrom('A', 'Db', 'F#')),
  }),
);

/** Lengths in ticks: notes of every value, dotted, across beats and bar lines, 32nds, five eighths. */
const length = fc
  .constantFrom(1 / 8, 1 / 4, 1 / 2, 3 / 4, 1, 3 / 2, 2, 5 / 2, 3, 13 / 4, 5)
  .map((each) => each * QUARTER);

const note = fc.record({
  // No two names of one key in a chord: MIDI has one note for both.
  pitches: fc.uniqueArray(fc.constantFrom(...PITCHES), { maxLength: 3, selector: Pitches.midiOf }),
  length,
  tie: fc.boolean(),
  slur: fc.boolean(),
  fermata: fc.boolean(),
  beam: fc.boolean(),
  fingers: fc.boolean(),
  grace: fc.boolean(),
  word: fc.constantFrom(null, 'la', 'Æther & <ox>', 'l’été'),
  hyphen: fc.boolean(),
  triplet: fc.boolean(),
});

type Drawn = typeof note extends fc.Arbitrary<infer T> ? T : never;

/** The lower voice keeps out of the upper one's way: a unison tied in both is one tie to most readers. */
const twoOctavesLower = (each: Note): Note => ({
  ...each,
  pitches: each.pitches.map((name) => name.replace(/\d$/, (octave) => String(Number(octave) - 2))),
});

const BARS = 4;
const LOW_TO_HIGH = new Map(PITCHES.map((name, index) => [name, index]));

function notesOf(drawn: readonly Drawn[], end: number): Note[] {
  const bar = end / BARS;
  const notes: Note[] = [];
  let at = 0;
  let slurred = false;
  const add = (each: Drawn, long: number, extra: Partial<Note>): void => {
    const pitches = [...each.pitches].sort(
      (a, b) => (LOW_TO_HIGH.get(a) ?? 0) - (LOW_TO_HIGH.get(b) ?? 0),
    );
    notes.push({ at, length: long, pitches, ...extra });
    at += long;
  };
  for (const each of drawn) {
    // A triplet lies inside its bar; one that a bar line cuts is not written by anybody.
    if (each.triplet && at < end && (at % bar) + QUARTER <= bar) {
      for (let k = 0; k < 3; k++) add(each, QUARTER / 3, { tuplet: { actual: 3, normal: 2 } });
      continue;
    }
    if (at + each.length > end) break;
    const sounding = each.pitches.length > 0;
    const slur = sounding && each.slur;
    const syllables = each.word
      ? [{ text: each.word, ...(each.hyphen ? { hyphen: true as const } : {}) }]
      : [null];
    add(each, each.length, {
      ...(sounding && each.tie ? { tie: true as const } : {}),
      ...(slur ? (slurred ? { slurEnds: 1 } : { slurStarts: 1 }) : {}),
      ...(each.fermata ? { fermata: true as const } : {}),
      ...(each.beam ? { beam: true as const } : {}),
      ...(sounding && each.fingers ? { fingers: each.pitches.map((_, k) => k + 1) } : {}),
      ...(sounding && each.grace ? { grace: ['D5'] } : {}),
      ...(sounding ? { syllables } : {}),
    });
    if (slur) slurred = !slurred;
  }
  const open = slurred ? notes.findLastIndex((each) => each.slurStarts) : -1;
  if (open >= 0) {
    const { slurStarts: _open, ...closed } = notes[open] as Note;
    notes[open] = closed;
  }
  if (at < end) notes.push({ at, length: end - at, pitches: [] });
  return notes;
}

/** A score of four bars and two voices on two staves, with all that a note can carry. */
export const anyScore: fc.Arbitrary<Score> = fc
  .record({
    meter: fc.constantFrom(...METERS),
    key: fc.constantFrom(...KEYS),
    upper: fc.array(note, { minLength: 1, maxLength: 24 }),
    lower: fc.array(note, { minLength: 1, maxLength: 24 }),
    chords: fc.array(chord, { maxLength: 6 }),
    repeats: fc.boolean(),
  })
  .map(({ meter, key, upper, lower, chords, repeats }): Score => {
    const [beats = 4, unit = 4] = meter.split('/').map(Number);
    const quarters = (BARS * beats * 4) / unit;
    const bare = buildScore({
      key,
      meter,
      voices: { a: `r:${quarters}`, b: `r:${quarters}` },
      words: ['*'],
      title: 'A <generated> & odd “score”',
    });
    const end = quarters * QUARTER;
    const lines = [notesOf(upper, end), notesOf(lower, end).map(twoOctavesLower)];
    return {
      ...bare,
      bars: bare.bars.map((bar, index) => ({
        ...bar,
        repeatStart: repeats && index === 0,
        repeatEnd: repeats && index === 2,
        endings: repeats && index === 2 ? [1] : repeats && index === 3 ? [2] : [],
      })),
      voices: bare.voices.map((voice, index): Voice => ({
        ...voice,
        staff: index + 1,
        clef: 'treble',
        notes: lines[index] ?? [],
      })),
      chords: chords.map((each, index) => ({
        at: (index * end) / 8,
        length: end / 8,
        chord: each,
      })),
    };
  });
