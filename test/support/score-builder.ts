import {
  QUARTER,
  type Bar,
  type Chord,
  type Key,
  type Mode,
  type Note,
  type Score,
  type Syllable,
  type Ticks,
  type Voice,
} from '#music';

/**
 * A small score for a test, typed as text. Voices from the top down; each is a line of notes:
 * `G4` a quarter note, `G4:2` two quarters, `G4:1/2` half a quarter, `G4+B4:2` a chord, `r:1` a rest, `G4:2~` tied to
 * the next note, `G4:2!` with a fermata. Bar lines `|` in the first voice make the bars (a first bar shorter than the
 * meter is the pickup); without any, the meter does, and the voice begins on beat one.
 */
export interface ScoreText {
  /** `G`, `E minor`, `E dorian`. */
  readonly key: string;
  /** `3/4`; `none` for no meter (counted in quarters). */
  readonly meter: string;
  readonly voices: Readonly<Record<string, string>>;
  /** Id of the tune; the first voice where not said. */
  readonly melody?: string;
  /** A line of syllables for each verse, under the tune: `A- maz- ing *`; `*` leaves a note without one. */
  readonly words?: readonly string[];
  readonly title?: string;
  /** Quarters a minute. */
  readonly tempo?: number;
  /** Printed sharps (positive) or flats where it is not the key's own. */
  readonly signature?: number;
  /** Key changes inside: [quarters from the start, key]. */
  readonly keyChanges?: readonly (readonly [quarters: number, key: string])[];
  /** Meter changes inside: [quarters from the start, meter]. Needs bar lines in the text. */
  readonly meterChanges?: readonly (readonly [quarters: number, meter: string])[];
  /** Chords: [quarters from the start, chord]; each lasts until the next. */
  readonly chords?: readonly (readonly [quarters: number, chord: Chord | null])[];
}

const FIFTHS: Readonly<Record<string, number>> = { F: -1, C: 0, G: 1, D: 2, A: 3, E: 4, B: 5 };
const MODE_FIFTHS: Readonly<Record<Mode, number>> = {
  lydian: 1,
  major: 0,
  mixolydian: -1,
  dorian: -2,
  minor: -3,
  phrygian: -4,
  locrian: -5,
};

export function keyOf(text: string): Key {
  const [tonic = '', mode = 'major'] = text.split(' ');
  if (!/^[A-G](#|b)?$/.test(tonic) || !(mode in MODE_FIFTHS)) throw new Error(`no key: ${text}`);
  return { tonic, mode: mode as Mode };
}

function signatureOf(key: Key): number {
  const accidental = key.tonic[1] === '#' ? 7 : key.tonic[1] === 'b' ? -7 : 0;
  return (FIFTHS[key.tonic.charAt(0)] ?? 0) + accidental + MODE_FIFTHS[key.mode];
}

function meterOf(text: string) {
  if (text === 'none') return { beats: null, unit: 4 };
  const [beats, unit] = text.split('/').map(Number);
  if (!beats || !unit) throw new Error(`no meter: ${text}`);
  return { beats, unit };
}

function ticks(text: string | undefined): Ticks {
  const [over = '1', under = '1'] = (text ?? '1').split('/');
  const length = (Number(over) * QUARTER) / Number(under);
  if (!Number.isInteger(length) || length <= 0) throw new Error(`no length: ${text ?? ''}`);
  return length;
}

function notesOf(line: string): { notes: Note[]; lines: Ticks[]; end: Ticks } {
  const notes: Note[] = [];
  const lines: Ticks[] = [];
  let at = 0;
  for (const token of line.trim().split(/\s+/)) {
    if (token === '|') {
      lines.push(at);
      continue;
    }
    const match = /^([^:~!]+)(?::([\d/]+))?([~!]*)$/.exec(token);
    if (!match) throw new Error(`no note: ${token}`);
    const length = ticks(match[2]);
    notes.push({
      at,
      length,
      pitches: match[1] === 'r' ? [] : (match[1] ?? '').split('+'),
      ...(match[3]?.includes('~') ? { tie: true as const } : {}),
      ...(match[3]?.includes('!') ? { fermata: true as const } : {}),
    });
    at += length;
  }
  return { notes, lines, end: at };
}

function withWords(notes: readonly Note[], verses: readonly string[]): Note[] {
  const rows = verses.map((line) => line.trim().split(/\s+/));
  let index = 0;
  return notes.map((note, place) => {
    if (note.pitches.length === 0 || (place > 0 && notes[place - 1]?.tie)) return note;
    const syllables = rows.map((row): Syllable | null => {
      const text = row[index];
      if (text === undefined || text === '*') return null;
      return text.endsWith('-') ? { text: text.slice(0, -1), hyphen: true } : { text };
    });
    index += 1;
    return { ...note, syllables };
  });
}

function barsOf(lines: readonly Ticks[], end: Ticks, full: Ticks | null): Bar[] {
  const starts = [0, ...lines].filter((at, place, all) => at < end && all.indexOf(at) === place);
  if (lines.length === 0 && full !== null) {
    for (let at = full; at < end; at += full) starts.push(at);
  }
  const lengths = starts.map((at, place) => (starts[place + 1] ?? end) - at);
  const pickup = full !== null && starts.length > 1 && (lengths[0] ?? 0) < full;
  return starts.map((at, place) => ({
    number: pickup ? place : place + 1,
    at,
    length: lengths[place] ?? 0,
    line: place === starts.length - 1 ? 'final' : 'single',
    repeatStart: false,
    repeatEnd: false,
    endings: [],
  }));
}

export function buildScore(text: ScoreText): Score {
  const lines = Object.entries(text.voices).map(([id, line]) => ({ id, ...notesOf(line) }));
  const first = lines[0];
  if (!first) throw new Error('a score has at least one voice');
  const end = first.end;
  const melody = text.melody ?? first.id;
  const verses = text.words ?? [];
  const voices = lines.map(({ id, notes, end: own }, place): Voice => {
    if (own !== end) throw new Error(`voice ${id} is ${own} ticks long, the first ${end}`);
    const upper = place < Math.ceil(lines.length / 2);
    return {
      id,
      name: id,
      group: 'Hymn',
      staff: upper ? 1 : 2,
      clef: upper ? 'treble' : 'bass',
      notes: id === melody ? withWords(notes, verses) : notes,
    };
  });
  const meter = meterOf(text.meter);
  const full = meter.beats === null ? null : (meter.beats * QUARTER * 4) / meter.unit;
  const keys = [[0, text.key] as const, ...(text.keyChanges ?? [])];
  const chords = text.chords ?? [];
  return {
    facts: {
      title: text.title ?? 'A test',
      subtitles: [],
      tune: null,
      hymnMeter: null,
      credits: [],
      rights: null,
      source: null,
      other: [],
    },
    tempo: text.tempo === undefined ? null : { beat: QUARTER, perMinute: text.tempo },
    keys: keys.map(([quarters, name], place) => ({
      at: quarters * QUARTER,
      key: keyOf(name),
      signature:
        place === 0 ? (text.signature ?? signatureOf(keyOf(name))) : signatureOf(keyOf(name)),
      sure: true,
      reason: 'as the test says',
      others: [],
    })),
    meters: [[0, text.meter] as const, ...(text.meterChanges ?? [])].map(([quarters, name]) => ({
      at: quarters * QUARTER,
      meter: meterOf(name),
    })),
    bars: barsOf(first.lines, end, full),
    voices,
    melody,
    chords: chords.map(([quarters, chord], place) => ({
      at: quarters * QUARTER,
      length: (chords[place + 1]?.[0] ?? end / QUARTER) * QUARTER - quarters * QUARTER,
      chord,
    })),
    sections: [{ id: 'verse', kind: 'verse', name: 'Verse', from: 0, to: end }],
    verses: verses.map((_, place) => ({ number: place + 1, label: `${place + 1}.` })),
    form:
      verses.length === 0
        ? [{ section: 'verse', verse: null }]
        : verses.map((_, place) => ({ section: 'verse', verse: place + 1 })),
    introduction: [],
  };
}
