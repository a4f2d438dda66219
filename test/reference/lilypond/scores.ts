import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { MusicXml, Pitches, QUARTER, Time, type Note, type Score } from '#music';
import { anyScore } from '#test/support/generated-scores.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

/** MIDI of LilyPond: ticks to the quarter note. */
export const TICKS = 384;

/** One voice or one line of words as LilyPond plays it, in 384ths of a quarter note from the start. */
export interface Recorded {
  readonly name: string;
  /** SHA-256 of the MusicXML that was read, from its list of parts on. */
  readonly sha256: string;
  /** `on:length:pitch`, pitches as in MIDI; ties are joined, repeats are played once. */
  readonly voices: readonly string[];
  /** `on:syllable`, a line for each voice and verse that has words; the words of a line are parted by `|`. */
  readonly words: readonly string[];
}

export interface Recording {
  readonly musicxml2ly: string;
  readonly lilypond: string;
  readonly scores: readonly Recorded[];
}

/** LilyPond plays grace notes in the time of the note before, which no score of ours does. */
function withoutGrace(score: Score): Score {
  const voices = score.voices.map((voice) => ({
    ...voice,
    notes: voice.notes.map(({ grace: _grace, ...note }): Note => note),
  }));
  return { ...score, voices };
}

/**
 * musicxml2ly does not know free meter (MusicXML 4.0, `senza-misura`): it reads 4/4, fills shorter bars and lets what is
 * beyond four quarters sound at once with what comes after. Two hymns have it; they are given the meters that their bars have.
 */
function metered(score: Score): Score {
  if (score.meters.every(({ meter }) => meter.beats !== null)) return score;
  const meters = score.bars.map(({ at, length }) => ({
    at,
    meter: { beats: length / QUARTER, unit: 4 },
  }));
  return { ...score, meters };
}

/** The 24 hymns, and twenty scores of two voices with tuplets, ties, slurs, repeats and words, by name. */
export function scoresToRecord(): ReadonlyMap<string, Score> {
  const generated = fc.sample(anyScore, { numRuns: 20, seed: 20261128 });
  return new Map([
    ...HYMN_FILES.map((file) => [file, metered(hymn(file))] as const),
    ...generated.map((score, i) => [`generated ${String(i + 1)}`, withoutGrace(score)] as const),
  ]);
}

/** Chord symbols would be played. */
export const xmlOf = (score: Score): string => MusicXml.write(score, { chords: false });

/** What stands before the list of parts is never played. */
export function hashOf(xml: string): string {
  const music = xml.slice(xml.indexOf('<part-list>'));
  return createHash('sha256').update(music).digest('hex');
}

export const inTicks = (at: number): number => Math.round((at * TICKS) / QUARTER);

type Lines = Pick<Recorded, 'voices' | 'words'>;

/** Those that have anything. Words stand in the order of their text, for LilyPond gives them no voice. */
export function sorted({ voices, words }: Lines): Lines {
  const isThere = (line: string): boolean => line !== '';
  return { voices: voices.filter(isThere), words: words.filter(isThere).sort() };
}

/** A score as it should be heard. */
export function expectedOf(score: Score): Lines {
  const voices = score.voices.map((voice) =>
    Time.soundingNotes(voice)
      .map(({ at, length, pitch }) => [at, at + length, Pitches.midiOf(pitch)] as const)
      .map(([on, off, midi]) => [inTicks(on), inTicks(off) - inTicks(on), midi] as const)
      .sort((a, b) => a[0] - b[0] || a[2] - b[2])
      .map((each) => each.join(':'))
      .join(' '),
  );
  const words = score.voices.flatMap(({ notes }) =>
    score.verses.map((_, verse) =>
      notes
        .flatMap(({ at, syllables }) => {
          const text = syllables?.[verse]?.text;
          return text === undefined ? [] : [`${String(inTicks(at))}:${plain(text)}`];
        })
        .join('|'),
    ),
  );
  return sorted({ voices, words });
}

/**
 * Spaces and the number of the verse are no words: musicxml2ly has a space after a word that is held, and one after each
 * quotation mark.
 */
export const plain = (text: string): string =>
  text
    .replace(/[\s|]+/gu, ' ')
    .trim()
    .replace(/^\d{1,2}\. ?/u, '')
    .replace(/ ?" ?/gu, '"');
