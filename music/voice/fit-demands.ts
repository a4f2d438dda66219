import { intervalBetween, plusOctaves, transposePitch } from '../pitch/interval.ts';
import type { Key } from '../pitch/key.ts';
import type { PitchName } from '../pitch/pitch.ts';
import type { Score, Tempo } from '../score/score.ts';
import { inTempo, secondsBetween } from '../score/tempos.ts';
import { barAt, countedTempo, melodyOf, meterAt, tempoAt } from '../score/time.ts';
import type {
  Asked,
  Demands,
  Leap,
  LongestPhrase,
  LongNotes,
  NoteInVoice,
  Place,
  SectionAsked,
} from './fit-asked.ts';
import { sayDemands, sayOctaves } from './fit-demand-words.ts';
import type { FitRow, KeyFitOptions } from './fit-row.ts';
import { table } from './fit-table.ts';
import { boundsOf, type Bounds } from './placed.ts';
import type { Singer } from './range.ts';
import { FELT_BEAT } from './sung.ts';
import { phrasesOf, type SungPhrase } from './sung-phrases.ts';

export interface DemandsOptions {
  /** Of the arrangement; null: as the song has it. */
  readonly tempo: Tempo | null;
  /** The song’s tempo is a file’s, which nobody confirmed: it stands in brackets. */
  readonly tempoFrom?: 'file';
  /** Id of the voice that is sung; missing: the tune. */
  readonly voice?: string;
}

/** For one voice in one key; null where no tune is written. */
export type DemandsOf = (
  singer: Singer,
  key: Key,
  octaves?: KeyFitOptions['octaves'],
) => Demands | null;

/** Counts what is the same in every key once; what comes back tells it for one voice in one key. */
export function demands(score: Score, options: DemandsOptions): DemandsOf {
  const phrases = phrasesOf(score, options.voice);
  const song = inTempo(score, options.tempo);
  const timed = phrases.map((phrase) => ({ phrase, time: timeOf(song, phrase) }));
  const isFile = options.tempo === null && options.tempoFrom === 'file';
  const voice = options.voice === undefined ? {} : { voice: options.voice };
  return (singer, key, octaves) => {
    const asked = octaves ? { octaves } : {};
    const row = table(score, [singer], { ...voice, ...asked, keys: [key] }).rows[0];
    if (!row) return null;
    const notes = notesIn(phrases, row, boundsOf(singer));
    const leaps = leapsOf(notes, phrases);
    const of = (section: string | null): Asked | null => {
      const own = <T extends { readonly section: string }>(each: T): boolean =>
        section === null || each.section === section;
      const phrase = longestOf(
        timed.filter(
          ({
            phrase: {
              notes: [first],
            },
          }) => first && own(first),
        ),
      );
      if (!phrase) return null;
      const long = longOf(notes.filter(own));
      return { long, leap: biggest(leaps.filter(({ to }) => own(to))), phrase };
    };
    const whole = of(null);
    if (!whole) return null;
    const perSection = row.perSection.flatMap(({ section, name }): SectionAsked[] => {
      const one = of(section);
      return one ? [{ section, name, ...one }] : [];
    });
    const breathes = phrases.length > 1;
    return {
      ...whole,
      row,
      notes,
      breathes,
      perSection,
      octaves: sayOctaves(row),
      sentences: sayDemands({ ...whole, singer, breathes, isFile }),
    };
  };
}

function notesIn(phrases: readonly SungPhrase[], row: FitRow, bounds: Bounds): NoteInVoice[] {
  const octaveOf = new Map(row.perSection.map(({ section, octave }) => [section, octave]));
  return phrases.flatMap(({ notes }, phrase) =>
    notes.map((note): NoteInVoice => {
      const octave = octaveOf.get(note.section) ?? 'as written';
      const by = plusOctaves(row.interval, octave === 'octave below' ? -1 : 0);
      const midi = note.midi + by.semitones;
      const pitch: PitchName = transposePitch(note.pitch, by);
      return { ...note, pitch, midi, octave, place: placeOf(midi, bounds), phrase };
    }),
  );
}

/** In a range of a half step or less both ends are near: the top counts. */
function placeOf(midi: number, { low, high }: Bounds): Place {
  if (midi > high) return 'above';
  if (midi < low) return 'below';
  if (midi >= high - 1) return 'at the top';
  return midi <= low + 1 ? 'at the bottom' : 'inside';
}

function longOf(notes: readonly NoteInVoice[]): LongNotes {
  const long = notes.filter(({ felt }) => felt >= 2 * FELT_BEAT);
  const [high, low] = [
    long.filter(({ place }) => place === 'above' || place === 'at the top'),
    long.filter(({ place }) => place === 'below' || place === 'at the bottom'),
  ];
  return {
    count: long.length,
    atTop: high.length,
    above: high.filter(({ place }) => place === 'above').length,
    atBottom: low.length,
    below: low.filter(({ place }) => place === 'below').length,
    longestHigh: first(high, (a, b) => b.felt - a.felt || b.midi - a.midi),
    longestLow: first(low, (a, b) => b.felt - a.felt || a.midi - b.midi),
  };
}

function leapsOf(notes: readonly NoteInVoice[], phrases: readonly SungPhrase[]): Leap[] {
  return notes.slice(1).map((to, i): Leap => {
    const from = notes[i] as NoteInVoice;
    const ends = from.phrase === to.phrase ? null : phrases[from.phrase]?.endsBy;
    return {
      from,
      to,
      interval: intervalBetween(from.pitch, to.pitch),
      over: ends === 'rest' || ends === 'breath' ? ends : null,
    };
  });
}

function biggest(leaps: readonly Leap[]): Leap | null {
  const size = ({ interval }: Leap): number => Math.abs(interval.semitones);
  const found = first(
    leaps,
    (a, b) => size(b) - size(a) || Number(a.over !== null) - Number(b.over !== null),
  );
  return found && size(found) > 0 ? found : null;
}

interface Timed {
  readonly phrase: SungPhrase;
  readonly time: LongestPhrase;
}

function timeOf(song: Score, { notes }: SungPhrase): LongestPhrase {
  const [start, last] = [notes[0], notes.at(-1)];
  if (!start || !last) throw new RangeError('a phrase has notes');
  const span = { from: start.at, to: last.at + last.length };
  const held = melodyOf(song).notes.some(
    ({ at, fermata }) => fermata && at >= span.from && at < span.to,
  );
  return {
    fromBar: start.bar,
    toBar: barAt(song, span.to - 1).number,
    felt: notes.reduce((sum, { felt }) => sum + felt, 0),
    seconds: secondsBetween(song, span),
    tempo: countedTempo(meterAt(song, span.from), tempoAt(song, span.from)),
    fermata: held,
  };
}

function longestOf(all: readonly Timed[]): LongestPhrase | null {
  const isTimed = all.every(({ time }) => time.seconds !== null);
  const length = ({ time }: Timed): number => (isTimed ? (time.seconds ?? 0) : time.felt);
  return first(all, (a, b) => length(b) - length(a))?.time ?? null;
}

/** The one that stands first when they are sorted; of equals the first in the list. null: the list is empty. */
function first<T>(all: readonly T[], compare: (a: T, b: T) => number): T | null {
  return all.reduce<T | null>(
    (found, each) => (found === null || compare(each, found) < 0 ? each : found),
    null,
  );
}
