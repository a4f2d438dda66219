import {
  Abc,
  failure,
  Midi,
  Scores,
  SongFiles,
  success,
  WordsAndChords,
  type Result,
  type Score,
  type SongFile,
  type SongFormat,
  type TextMark,
} from '#music';
import { boundedJson } from './bounded-json.ts';

/** A file of songs and how it is to be read. */
export interface ReadRequest {
  readonly bytes: Uint8Array;
  /** Missing: as its bytes say. */
  readonly as?: SongFormat | undefined;
  /** Words with chords: what a person said of its lines. */
  readonly marks?: readonly TextMark[] | undefined;
  /** MIDI: which of its tracks a person says the tune is in. */
  readonly melody?: number | undefined;
}

/** The songs of a file, read right here: only for files that are known to be good. */
export function readFile({ bytes, as, marks = [], melody }: ReadRequest): Result<SongFile> {
  if (as === 'midi' && melody !== undefined) {
    const result = Midi.read(bytes, { melody });
    return result.ok ? success({ format: as, scores: [result.value] }, result.warnings) : result;
  }
  const noSong = as && SongFiles.whyNoSong(bytes, as);
  if (noSong) return failure(noSong);
  if (as !== 'words' || marks.length === 0) return SongFiles.read(bytes, as);
  const result = WordsAndChords.read(Abc.decode(bytes).text, { marks });
  return result.ok ? success({ format: 'words', scores: [result.value] }, result.warnings) : result;
}

/** The music whole and exact, as an archive of a library has it, in JSON. */
export interface ScoreRequest {
  readonly json: Uint8Array;
}

/** The score that some JSON is; whatever somebody else made it to be, the score holds together. */
export function readScore({ json }: ScoreRequest): Result<Score> {
  const value = boundedJson(json);
  return value === null
    ? failure({ code: 'broken-score', message: 'The music in score.json is no JSON.' })
    : Scores.read(value);
}
