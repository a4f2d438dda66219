import { intervalBetween, transposePitch } from '../pitch/interval.ts';
import { midiOf, type PitchName } from '../pitch/pitch.ts';
import type { Key } from '../pitch/key.ts';
import { of as meterOf } from '../score/hymn-meter.ts';
import type { Meter, Score, Tempo } from '../score/score.ts';
import { barAt, feltBeat } from '../score/time.ts';
import { interval } from '../score/transpose.ts';
import { linesOfVerse } from '../score/verse-text.ts';
import type { SongDetails } from './details.ts';
import { read as readPassage } from './scripture.ts';
import { notesOf, signOf, type TuneSign } from './tunes.ts';

/** What a song is found by: drawn from its music and from what the team knows of it. Plain JSON, small. */
export interface LibraryEntry {
  readonly title: string;
  readonly subtitles: readonly string[];
  readonly firstLine: string | null;
  /** Every line of every verse, each once. */
  readonly lines: readonly string[];
  readonly people: readonly string[];
  readonly tune: string | null;
  readonly themes: readonly string[];
  readonly scripture: readonly string[];
  /** Of the Bible, by their whole names. */
  readonly books: readonly string[];
  readonly language: string | null;
  readonly hymnMeter: string | null;
  /** The song's own key. */
  readonly key: Key;
  /** `3/4`, `free`. */
  readonly meter: string;
  readonly tempo: Tempo | null;
  /** Felt beats a minute; null: no tempo is written. */
  readonly feltTempo: number | null;
  /** Lowest and highest note of the tune in its own key, as written; null: they are not known. */
  readonly range: { readonly low: PitchName; readonly high: PitchName } | null;
  readonly sign: TuneSign;
  /** Number of the bar of each note of `sign`, the first included. */
  readonly noteBars: readonly number[];
}

const sayMeter = ({ beats, unit }: Meter): string => (beats === null ? 'free' : `${beats}/${unit}`);

/** As the words are printed and sung: a verse without words has no lines. */
function allLines(score: Score): string[] {
  return [...new Set(score.verses.flatMap((_, verse) => linesOfVerse(score, verse)))];
}

function rangeOf(score: Score, pitches: readonly PitchName[]): LibraryEntry['range'] {
  if (pitches.length === 0) return score.compass ?? null;
  const [first = 'C4'] = pitches;
  let [low, high] = [first, first];
  for (const pitch of pitches) {
    if (midiOf(pitch) < midiOf(low)) low = pitch;
    if (midiOf(pitch) > midiOf(high)) high = pitch;
  }
  return { low, high };
}

/** The score with its answers worked in. `details` count before what the source says. */
export function of(score: Score, details: SongDetails): LibraryEntry {
  const { facts, tempo } = score;
  const [key, meter] = [score.keys[0]?.key, score.meters[0]?.meter];
  if (!key || !meter) throw new RangeError('a score has a key and a meter at its start');
  const notes = notesOf(score);
  const lines = allLines(score);
  const passages = details.scripture.flatMap((text) => {
    const read = readPassage(text);
    return read.ok ? read.value.map(({ book }) => book) : [];
  });
  const range = rangeOf(
    score,
    notes.map(({ pitch }) => pitch),
  );
  return {
    title: facts.title,
    subtitles: facts.subtitles,
    firstLine: details.firstLine ?? lines[0] ?? null,
    lines,
    people: [...new Set([...details.people.map(({ name }) => name), ...facts.credits])],
    tune: facts.tune,
    themes: details.themes,
    scripture: details.scripture,
    books: [...new Set(passages)],
    language: details.language,
    hymnMeter: details.hymnMeter ?? meterOf(score).meter ?? facts.hymnMeter,
    key,
    meter: sayMeter(meter),
    tempo,
    feltTempo: tempo && (tempo.perMinute * tempo.beat) / feltBeat(meter),
    range: range && { low: range.low, high: range.high },
    sign: signOf(score),
    noteBars: notes.map(({ at }) => barAt(score, at).number),
  };
}

/** Lowest and highest note in another key, as the song is written there. */
export function rangeIn({ key, range }: LibraryEntry, to: Key): LibraryEntry['range'] {
  if (!range) return null;
  const move = interval(key, to);
  return { low: transposePitch(range.low, move), high: transposePitch(range.high, move) };
}

/** Semitones from the lowest to the highest note. */
export function spanOf({ low, high }: NonNullable<LibraryEntry['range']>): number {
  return intervalBetween(low, high).semitones;
}
