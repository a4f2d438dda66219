import {
  Abc,
  Midi,
  MusicXml,
  NotedDetails,
  Reduction,
  WordsAndChords,
  type NotedIn,
  type Score,
} from '#music';
import type { FileKind, FileQueryRead } from '../contract/library.ts';
import type { TeamStore } from '../store/store.ts';
import { findArrangedSong } from './find-arranged-song.ts';
import { Refusal } from './refusal.ts';
import { requireRhythm } from './require-rhythm.ts';

export interface SongFile {
  readonly name: string;
  /** Its media type. */
  readonly type: string;
  readonly content: string | Uint8Array;
}

interface Kind {
  readonly ending: string;
  readonly type: string;
  /** What a song without rhythm cannot be written as; null: it can. */
  readonly needsRhythm: string | null;
  /** How it says what the team knows of a song; null: it cannot. */
  readonly notes: NotedIn | null;
  readonly write: (score: Score, asked: FileQueryRead) => string | Uint8Array;
}

const NOTES = 'it cannot be written as a file of notes';

/** Media types as registered with IANA, but for MIDI (RFC 4735 has none for files; `audio/midi` is common practice). */
const KINDS: Readonly<Record<FileKind, Kind>> = {
  musicxml: {
    ending: 'musicxml',
    type: 'application/vnd.recordare.musicxml+xml',
    needsRhythm: NOTES,
    notes: 'musicxml',
    write: (score) => MusicXml.write(score),
  },
  mxl: {
    ending: 'mxl',
    type: 'application/vnd.recordare.musicxml',
    needsRhythm: NOTES,
    notes: 'musicxml',
    write: (score) => MusicXml.compress(score),
  },
  abc: {
    ending: 'abc',
    type: 'text/vnd.abc; charset=utf-8',
    needsRhythm: NOTES,
    notes: 'abc',
    write: (score) => Abc.write(score),
  },
  midi: {
    ending: 'mid',
    type: 'audio/midi',
    needsRhythm: 'it cannot be written as MIDI, which is nothing but notes in time',
    notes: null,
    write: (score, { passes, countIn, click }) => Midi.write(score, { passes, countIn, click }),
  },
  words: {
    ending: 'txt',
    type: 'text/plain; charset=utf-8',
    needsRhythm: null,
    notes: 'words',
    write: (score) => WordsAndChords.write(score),
  },
};

export const FILE_TYPES: readonly string[] = Object.values(KINDS).map(({ type }) => type);

/** Whether there is anything to write as text: words, or chords. */
const hasText = ({ verses, chords }: Score): boolean => verses.length > 0 || chords.length > 0;

/**
 * The whole song in its own key, with the chords that are played and what the team knows of it, for another program.
 * Never the private note.
 */
export async function writeSongFile(
  store: TeamStore,
  id: string,
  asked: FileQueryRead,
): Promise<SongFile> {
  const { as } = asked;
  const { song, score, arrangement } = await findArrangedSong(store, id, () => []);
  const { ending, type, needsRhythm, notes, write } = KINDS[as];
  if (needsRhythm !== null) requireRhythm(score, needsRhythm);
  const { density } = arrangement;
  const whole = score.untimed ? score : Reduction.withChords(score, { density });
  const { title } = score.facts;
  if (as === 'words' && !hasText(whole)) {
    throw new Refusal(
      'not-possible',
      `“${title}” has neither words nor chords, so there is nothing to write as words with chords. Take it as MusicXML, ABC or MIDI.`,
    );
  }
  const facts = notes === null ? whole.facts : NotedDetails.noted(whole.facts, song.details, notes);
  return { name: `${title}.${ending}`, type, content: write({ ...whole, facts }, asked) };
}
