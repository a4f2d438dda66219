import {
  Abc,
  ChordSymbol,
  Keys,
  Midi,
  MusicXml,
  Pitches,
  SongFiles,
  SungLines,
  Tempos,
  Time,
  WordsAndChords,
  type Score,
  type SongFormat,
  type Syllable,
} from '#music';

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

export const WRITERS: Readonly<Record<SongFormat, (score: Score) => Uint8Array>> = {
  abc: (score) => encode(Abc.write(score)),
  musicxml: (score) => encode(MusicXml.write(score)),
  midi: (score) => Midi.write(score),
  words: (score) => encode(WordsAndChords.write(score)),
};

/** Writes a score in a format and reads it again as a file of that format. */
export function through(format: SongFormat, score: Score): Score {
  const read = SongFiles.read(WRITERS[format](score), format);
  const again = read.ok ? read.value.scores[0] : undefined;
  if (!again) throw new Error(`${format}: ${JSON.stringify(read)}`);
  return again;
}

const sounding = (score: Score, name: (pitch: string) => string): string[][] =>
  score.voices
    .map((voice) =>
      Time.soundingNotes(voice)
        .map(({ at, length, pitch }) => ({ at, length, pitch }))
        .sort(
          (a, b) =>
            a.at - b.at || Pitches.midiOf(a.pitch) - Pitches.midiOf(b.pitch) || a.length - b.length,
        )
        .map(({ at, length, pitch }) => `${String(at)} ${String(length)} ${name(pitch)}`),
    )
    .filter((notes) => notes.length > 0);

const syllables = (
  score: Score,
  verse: number,
  shown: (syllable: Syllable) => string,
): string[][] =>
  score.voices
    .map(({ notes }) =>
      notes.flatMap(({ at, syllables: sung }) => {
        const syllable = sung?.[verse];
        return syllable ? [`${String(at)} ${shown(syllable)}`] : [];
      }),
    )
    .filter((words) => words.length > 0);

/** The syllables of the first verse where a note is struck; MIDI has no others. */
const struck = (score: Score): string[][] => {
  const voices = score.voices.map((voice) => {
    const starts = new Set(Time.soundingNotes(voice).map(({ at }) => at));
    return { ...voice, notes: voice.notes.filter(({ at }) => starts.has(at)) };
  });
  return syllables({ ...score, voices }, 0, ({ text }) => text);
};

const plain = (text: string | null): string | null =>
  text === null ? null : text.replace(/\s+/g, ' ').trim();

/** What a score says, apart: each can be compared by itself. */
export const FACETS = {
  /** Onset, length and sound of every note, ties joined, voice by voice. */
  notes: (score) => sounding(score, (pitch) => String(Pitches.midiOf(pitch))),
  /** The same of all voices together. */
  sound: (score) =>
    sounding(score, (pitch) => String(Pitches.midiOf(pitch)))
      .flat()
      .sort(),
  spelling: (score) => sounding(score, (pitch) => pitch),
  firstVerse: struck,
  words: (score) => syllables(score, 0, ({ text, hyphen }) => text + (hyphen ? '-' : '')),
  allVerses: (score) =>
    score.verses.map((_, verse) =>
      syllables(score, verse, ({ text, hyphen }) => text + (hyphen ? '-' : '')),
    ),
  chords: (score) =>
    score.chords.map(
      ({ at, chord }) => `${String(at)} ${chord ? ChordSymbol.write(chord) : 'N.C.'}`,
    ),
  bars: (score) => score.bars.map(({ at, length }) => [at, length]),
  meters: (score) => score.meters,
  repeats: (score) =>
    score.bars.map(({ repeatStart, repeatEnd, endings }) => [repeatStart, repeatEnd, endings]),
  signatures: (score) =>
    score.keys
      .filter(({ signature }, i) => signature !== score.keys[i - 1]?.signature)
      .map(({ at, signature }) => [at, signature]),
  keys: (score) => score.keys.map(({ at, key }) => `${String(at)} ${Keys.writeKey(key)}`),
  sections: (score) => score.sections.map(({ name, kind, from, to }) => ({ name, kind, from, to })),
  form: (score) => score.form.map(({ section, verse }) => [score.sections.find(({ id }) => id === section)?.name, verse]), // prettier-ignore
  marks: (score) =>
    score.voices.map(({ notes }) =>
      notes
        .filter(({ pitches }) => pitches.length > 0)
        .map(({ at, fermata, grace, fingers, slurStarts }) => ({
          at,
          fermata,
          grace,
          fingers,
          slurStarts,
        }))
        .filter((each) => Object.values(each).some((value, i) => i > 0 && value !== undefined)),
    ),
  /** What is sung, pass by pass, as words; and the chords of each pass in order. */
  text: (score) =>
    SungLines.sungPasses(score).map(({ name, lines }) => ({
      name,
      words: lines
        .flat()
        .map(({ text, goesOn }) => text + (goesOn ? '' : ' '))
        .join('')
        .replace(/\s+/g, ' ')
        .trim(),
    })),
  passChords: (score) =>
    SungLines.sungPasses(score).map(({ lines }) =>
      lines.flat().flatMap(({ chord }) => {
        const found = chord === null ? undefined : score.chords[chord];
        return found ? [found.chord ? ChordSymbol.write(found.chord) : 'N.C.'] : [];
      }),
    ),
  title: (score) => plain(score.facts.title),
  rights: (score) => plain(score.facts.rights),
  tune: (score) => plain(score.facts.tune),
  credits: (score) => score.facts.credits.map(plain),
  firstKey: (score) => score.keys[0] && Keys.writeKey(score.keys[0].key),
  firstMeter: (score) => score.meters[0]?.meter,
  /** Quarters a minute wherever they change, to a quarter of one: MIDI has whole microseconds. */
  tempos: (score) =>
    Tempos.temposOf(score).map(({ at, tempo }) => [at, tempo && Math.round(Tempos.quartersPerMinute(tempo) * 4)]).filter(([, tempo], i, all) => i === 0 || tempo !== all[i - 1]?.[1]), // prettier-ignore
} satisfies Readonly<Record<string, (score: Score) => unknown>>;

export type Facet = keyof typeof FACETS;
