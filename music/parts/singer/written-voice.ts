import { listed } from '../../score/number-words.ts';
import type { Note, Score, Syllable, Ticks, Voice } from '../../score/score.ts';
import { melodyOf } from '../../score/time.ts';
import { table } from '../../voice/fit-table.ts';
import type { FitRow } from '../../voice/fit-row.ts';
import type { Range } from '../../voice/range.ts';

/** A voice that is written under the tune, as a singer takes it: with the words of the tune. */
export interface WrittenVoice {
  /** `alto`. */
  readonly name: string;
  /** The song with this voice in the place of the tune. */
  readonly song: Score;
  /** How it lies in the singer's range, as written. */
  readonly row: FitRow;
  /** Somebody before sings it too, as no other one sits in this range. */
  readonly isTaken: boolean;
}

/** What the voices under the tune are called, by how many there are (common practice of four-part hymns). */
const NAMES: readonly (readonly string[])[] = [
  [],
  ['second voice'],
  ['second voice', 'third voice'],
  ['alto', 'tenor', 'bass'],
];

/** The lines under the tune that one person can sing, of its group, from the top down, with their names. */
function voicesUnder(song: Score): { readonly name: string; readonly voice: Voice }[] {
  const melody = melodyOf(song);
  const least = soundingTime(melody.notes) / 2;
  const others = song.voices
    .filter(({ group }) => group === melody.group)
    .flatMap((voice) => linesOf(voice).filter(({ id }) => id !== melody.id))
    .filter(({ notes }) => soundingTime(notes) > least);
  const names = NAMES[others.length] ?? others.map((_, place) => `voice ${place + 2}`);
  return others.map((voice, place) => ({ name: names[place] ?? '', voice }));
}

function soundingTime(notes: readonly Note[]): Ticks {
  return notes.reduce((sum, { pitches, length }) => sum + (pitches.length > 0 ? length : 0), 0);
}

/**
 * A voice that is written with two notes at once, as a staff of a hymnal is, holds two lines. One that has them now and
 * then (a choice at the end) is one line; anything between is an accompaniment, and none.
 */
function linesOf(voice: Voice): Voice[] {
  const sung = voice.notes.filter(({ pitches }) => pitches.length > 0);
  const double = sung.filter(({ pitches }) => pitches.length > 1);
  if (double.length * 10 <= sung.length) return [voice];
  if (double.length * 2 < sung.length) return [];
  const line = (id: string, of: (pitches: Note['pitches']) => Note['pitches']): Voice => ({
    ...voice,
    id,
    notes: voice.notes.map(({ fingers: _none, ...note }) => ({
      ...note,
      pitches: of(note.pitches),
    })),
  });
  return [
    line(voice.id, (pitches) => pitches.slice(-1)),
    line(`${voice.id} lower`, (pitches) => pitches.slice(0, 1)),
  ];
}

/** `alto, tenor and bass`; empty where the song has only its tune. */
export function sayWrittenVoices(song: Score): string {
  return listed(voicesUnder(song).map(({ name }) => name));
}

/**
 * The written voice that lies best in a range, sung as it is written (an octave lower it would cross the bass): first
 * the least time outside, then the mean nearest to the middle of the range, then the higher voice. Null: the song has
 * none, or none sits in that range.
 * @param taken names of those that others sing already: one of them is sung again only where no other sits there
 */
export function writtenVoiceFor(
  song: Score,
  name: string,
  range: Range,
  taken: readonly string[] = [],
): WrittenVoice | null {
  const key = song.keys[0]?.key;
  if (!key) return null;
  const singer = { id: name, name, comfortable: range, reads: 'as written' } as const;
  const fits = voicesUnder(song).flatMap((under): WrittenVoice[] => {
    const sung = asTune(song, under.voice);
    const row = table(sung, [singer], { keys: [key] }).rows[0];
    const isTaken = taken.includes(under.name);
    return row && row.verdict !== 'outside' ? [{ name: under.name, song: sung, row, isTaken }] : [];
  });
  const free = fits.filter(({ isTaken }) => !isTaken);
  return (free.length > 0 ? free : fits).reduce<WrittenVoice | null>(
    (best, each) => (best && !liesBetter(each.row, best.row) ? best : each),
    null,
  );
}

function liesBetter(a: FitRow, b: FitRow): boolean {
  if (a.shareOutside !== b.shareOutside) return a.shareOutside < b.shareOutside;
  return Math.abs(a.meanOffset) < Math.abs(b.meanOffset);
}

/** The song with another voice as its tune, under the words of the tune where it has not words of its own throughout. */
function asTune(song: Score, voice: Voice): Score {
  const syllablesOf = ({ notes }: Voice) => notes.filter((note) => note.syllables?.some(Boolean));
  const tune = melodyOf(song);
  const own = 2 * syllablesOf(voice).length > syllablesOf(tune).length;
  const sung = own ? voice : { ...voice, notes: withWordsOf(tune, voice) };
  return {
    ...song,
    melody: voice.id,
    voices: [...song.voices.filter(({ id }) => id !== voice.id), sung],
  };
}

/**
 * Each syllable where the tune has it; a note that lasts over syllables of the tune is sung again for each (common
 * practice where a part moves less than the tune).
 */
function withWordsOf(melody: Voice, voice: Voice): Note[] {
  const words = new Map(
    melody.notes.flatMap(({ at, syllables }): [number, readonly (Syllable | null)[]][] =>
      syllables?.some(Boolean) ? [[at, syllables]] : [],
    ),
  );
  const moments = [...words.keys()];
  return voice.notes.flatMap((note): Note[] => {
    if (note.pitches.length === 0) return [note];
    const end = note.at + note.length;
    const again = moments.filter((at) => at > note.at && at < end);
    const starts = [note.at, ...again];
    return starts.map((at, place): Note => {
      const { tie, slurStarts, slurEnds, grace, fermata, beam, syllables: _few, ...plain } = note;
      const [first, last] = [place === 0, place === starts.length - 1];
      const next = starts[place + 1] ?? end;
      const syllables = words.get(at);
      return {
        ...plain,
        at,
        length: next - at,
        ...(first && slurStarts ? { slurStarts } : {}),
        ...(first && grace ? { grace } : {}),
        ...(last && slurEnds ? { slurEnds } : {}),
        ...(last && fermata ? { fermata } : {}),
        ...(last && beam ? { beam } : {}),
        ...(last && tie && !words.has(end) ? { tie } : {}),
        ...(syllables ? { syllables } : {}),
      };
    });
  });
}
