import { failure, success, type Problem, type Result } from '../result.ts';
import type { Score } from '../score/score.ts';
import { decode, read as readAbc } from './abc.ts';
import { read as readMidi } from './midi.ts';
import { read as readMusicXml } from './musicxml.ts';
import { whyNoSong } from './no-song.ts';
import type { SongFormat } from './song-format.ts';
import { read as readWords } from './words-and-chords.ts';

export type { SongFormat } from './song-format.ts';
export { hasTitle, titled, WITHOUT_TITLE } from './titled.ts';

export interface SongFile {
  readonly format: SongFormat;
  /** At least one. */
  readonly scores: readonly Score[];
}

/** ABC says what it is: a line `X: 1`, or a key line beside a title, a meter or a unit note (ABC 2.1, section 3). */
export function formatOfText(text: string): SongFormat {
  if (/^\s*(<\?xml|<!DOCTYPE\s+score-|<score-(partwise|timewise))/.test(text)) return 'musicxml';
  if (/^X:\s*\d/m.test(text)) return 'abc';
  return /^K:/m.test(text) && /^[TML]:/m.test(text) ? 'abc' : 'words';
}

const begins = (bytes: Uint8Array, with_: string): boolean =>
  [...with_].every((letter, i) => bytes[i] === letter.charCodeAt(0));

/** What the bytes say they are, whatever the file is called: MThd is MIDI (SMF 1.0), PK a zip, and so compressed MusicXML. */
export function formatOf(bytes: Uint8Array): SongFormat {
  if (begins(bytes, 'MThd') || begins(bytes, 'RIFF')) return 'midi';
  if (begins(bytes, 'PK')) return 'musicxml';
  // UTF-16 without a mark, which begins with `<` (XML 1.0, appendix F).
  if (begins(bytes, '<\0') || begins(bytes, '\0<')) return 'musicxml';
  return formatOfText(decode(bytes.subarray(0, 20_000)).text);
}

/**
 * What a file is meant to be: as its bytes say; where they are no text, as its name ends, so that a broken file is told so
 * in its own format.
 */
export function formatOfFile(bytes: Uint8Array, name: string): SongFormat {
  const said = formatOf(bytes);
  const isText = said === 'words' || said === 'abc';
  if (!isText || whyNoSong(bytes, said)?.code !== 'no-text') return said;
  if (/\.(mid|midi|rmi)$/i.test(name)) return 'midi';
  return /\.(mxl|musicxml)$/i.test(name) ? 'musicxml' : said;
}

const one = (result: Result<Score>): Result<readonly Score[]> =>
  result.ok ? success([result.value], result.warnings) : result;

function readAs(format: SongFormat, bytes: Uint8Array): Result<readonly Score[]> {
  switch (format) {
    case 'abc':
      return readAbc(bytes);
    case 'midi':
      return one(readMidi(bytes));
    case 'musicxml':
      return one(readMusicXml(bytes));
    case 'words':
      return one(readWords(decode(bytes).text));
  }
}

export { whyNoSong };

/** The songs of a file of any kind; pictures, documents and what is no text are refused. Problems and warnings are those of its format. */
export function read(bytes: Uint8Array, as: SongFormat = formatOf(bytes)): Result<SongFile> {
  if (bytes.length === 0) {
    const empty: Problem = { code: 'nothing-here', message: 'The file is empty.' };
    return failure(empty);
  }
  const noSong = whyNoSong(bytes, as);
  if (noSong) return failure(noSong);
  const result = readAs(as, bytes);
  if (!result.ok) return result;
  return success({ format: as, scores: result.value }, result.warnings);
}
