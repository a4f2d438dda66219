import { CHORD_KINDS, type Chord, type ChordDegree } from '../pitch/chord.ts';
import { MODES, type Key } from '../pitch/key.ts';
import { isNoteName, parsePitch } from '../pitch/pitch.ts';
import { SCORE_LIMITS as LIMITS } from './limits.ts';
import { QUARTER } from './score.ts';
import type {
  Bar,
  ChordAt,
  ChordGuess,
  Compass,
  KeyAt,
  Loop,
  Meter,
  MeterAt,
  Note,
  Pass,
  Score,
  Section,
  SongFacts,
  Span,
  Syllable,
  Tempo,
  TempoAt,
  Verse,
  Voice,
} from './score.ts';
import type { Sentence } from './sentence.ts';
import { SECTION_KINDS } from './sections.ts';
import {
  always,
  flag,
  integer,
  list,
  Misshapen,
  named,
  number,
  object,
  oneOf,
  orNull,
  pair,
  text,
  type Shape,
} from './shape.ts';

/** The octaves that a keyboard and everything beside it can name. */
const OCTAVES = { low: -1, high: 10 } as const;

const line = text(LIMITS.line);
const prose = text(LIMITS.text);
const LAST_TICK = LIMITS.bars * LIMITS.barLength;
const ticks = integer(0, LAST_TICK);
const length = integer(1, LAST_TICK);
const note = named(isNoteName, 'note name');
const pitch = named((each) => {
  const octave = parsePitch(each)?.octave;
  return octave !== undefined && octave >= OCTAVES.low && octave <= OCTAVES.high;
}, 'pitch');

const key = object<Key>({ tonic: note, mode: oneOf(MODES) });
const degree = object<ChordDegree>({
  type: oneOf(['add', 'alter', 'subtract']),
  value: integer(1, 13),
  alter: integer(-3, 3),
});
const chord = object<Chord>({
  root: note,
  kind: oneOf(CHORD_KINDS),
  degrees: list(degree, 13),
  bass: orNull(note),
});

const words: readonly Shape<Exclude<Sentence[number], string>>[] = [
  object<{ pitch: string }>({ pitch }),
  object<{ note: string }>({ note }),
  object<{ chord: Chord }>({ chord }),
  object<{ key: Key }>({ key }),
];
const NAMES = ['pitch', 'note', 'chord', 'key'] as const;

const word: Shape<Sentence[number]> = (value, path) => {
  if (typeof value === 'string') return prose(value, path);
  const index = NAMES.findIndex(
    (each) => typeof value === 'object' && value !== null && Object.hasOwn(value, each),
  );
  const shape = words[index];
  if (!shape) throw new Misshapen(path, 'is no word of a sentence');
  return shape(value, path);
};
const sentence: Shape<Sentence> = list(word, 200);

const span = { from: ticks, to: ticks };
const tuplet = object<NonNullable<Note['tuplet']>>({
  actual: integer(1, 64),
  normal: integer(1, 64),
});
// In a song without time a syllable is all that is sung to one chord, up to a whole line.
const syllable = object<Syllable>({ text: line, hyphen: always, held: integer(1, LIMITS.notes) }, [
  'hyphen',
  'held',
]);

const noteShape = object<Note>(
  {
    at: ticks,
    length,
    pitches: list(pitch, LIMITS.pitches),
    tie: always,
    syllables: list(orNull(syllable), LIMITS.verses),
    slurStarts: integer(0, 12),
    slurEnds: integer(0, 12),
    fermata: always,
    tuplet,
    grace: list(pitch, 64),
    hidden: always,
    beam: always,
    fingers: list(integer(1, 5), LIMITS.pitches),
    soft: always,
    pedal: oneOf(['down', 'up', 'change']),
    above: line,
    signs: list(line, 32),
  },
  ['tie', 'syllables', 'slurStarts', 'slurEnds', 'fermata', 'tuplet', 'grace', 'hidden', 'beam', 'fingers', 'soft', 'pedal', 'above', 'signs'], // prettier-ignore
);

const voice = object<Voice>({
  id: text(40),
  name: line,
  group: line,
  staff: integer(1, LIMITS.voices),
  clef: oneOf(['treble', 'bass', 'treble-8', 'bass-8']),
  notes: list(noteShape, LIMITS.notes),
});

const bar = object<Bar>(
  {
    number: integer(0, 10 * LIMITS.bars),
    at: ticks,
    length: integer(1, LIMITS.barLength),
    line: oneOf(['single', 'double', 'final', 'none', 'dashed']),
    repeatStart: flag,
    repeatEnd: flag,
    endings: list(integer(1, LIMITS.endings), LIMITS.endings),
    copyOf: integer(0, 10 * LIMITS.bars),
  },
  ['copyOf'],
);

const keyAt = object<KeyAt>(
  {
    at: ticks,
    key,
    signature: integer(-7, 7),
    sure: flag,
    reason: prose,
    sentence,
    others: list(key, 24),
  },
  ['sentence'],
);

const meter = object<Meter>({ beats: orNull(integer(1, LIMITS.beats)), unit: integer(1, LIMITS.unit) }); // prettier-ignore

const guess = object<ChordGuess>({ reason: prose, sentence, others: list(chord, 48) }, ['sentence']); // prettier-ignore

const section = object<Section>(
  {
    ...span,
    id: line,
    kind: oneOf(SECTION_KINDS),
    name: line,
    copyOf: line,
    ownName: line,
    up: integer(-11, 11),
    loop: object<Loop>({ cue: line, amen: flag }),
  },
  ['copyOf', 'ownName', 'up', 'loop'],
);

const facts = object<SongFacts>({
  title: line,
  subtitles: list(line, 50),
  tune: orNull(line),
  hymnMeter: orNull(line),
  credits: list(prose, 100),
  rights: orNull(prose),
  source: orNull(prose),
  other: list(pair(line, prose), 500),
});

const compass = object<Compass>({
  low: pitch,
  high: pitch,
  mostly: orNull(object<NonNullable<Compass['mostly']>>({ low: pitch, high: pitch })),
});

const tempo = object<Tempo>({ beat: integer(1, 16 * QUARTER), perMinute: number(1, 1000) });

/** A score as JSON, each field by itself; how they hang together is looked at afterwards. */
export const scoreShape: Shape<Score> = object<Score>(
  {
    facts,
    tempo: orNull(tempo),
    tempoChanges: list(object<TempoAt>({ at: ticks, tempo }), LIMITS.bars),
    keys: list(keyAt, LIMITS.bars, 1),
    meters: list(object<MeterAt>({ at: ticks, meter }), LIMITS.bars, 1),
    bars: list(bar, LIMITS.bars, 1),
    voices: list(voice, LIMITS.voices, 1),
    melody: text(40),
    chords: list(
      object<ChordAt>({ at: ticks, length, chord: orNull(chord), guess }, ['guess']),
      LIMITS.chords,
    ),
    sections: list(section, LIMITS.sections, 1),
    verses: list(
      object<Verse>({ number: integer(0, 999), label: line, lines: list(line, 500) }, ['lines']),
      LIMITS.verses,
    ),
    form: list(object<Pass>({ section: line, verse: orNull(integer(0, 999)) }), LIMITS.passes),
    introduction: list(object<Span>(span), LIMITS.sections),
    untimed: always,
    compass,
  },
  ['tempoChanges', 'untimed', 'compass'],
);
