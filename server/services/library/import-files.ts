import {
  LibraryEntries,
  NO_DETAILS,
  SongFiles,
  type Problem,
  type Score,
  type SongFormat,
} from '#music';
import type { ImportLine, ImportReport, NewSongsRead } from '../../contract/library.ts';
import type { TeamStore } from '../../store/store.ts';
import { addSong } from '../import-song.ts';
import { readSongs, type Reader } from '../read-songs.ts';
import type { Book } from './book.ts';
import { Doubles, sayDouble } from './doubles.ts';
import { inTurn } from './in-turn.ts';
import { tunesOf, type TuneBytes } from './split-tunes.ts';

const MOST_SAID = 20;

const failed = (file: string, problems: readonly Problem[]): ImportLine => ({
  file,
  title: null,
  outcome: 'failed',
  song: null,
  why: sentence(problems[0]) ?? 'There is no song in it.',
  problems: problems.slice(0, MOST_SAID),
  double: null,
});

function sentence(problem: Problem | undefined): string | undefined {
  if (!problem) return undefined;
  return problem.line === undefined ? problem.message : `Line ${problem.line}: ${problem.message}`;
}

/** What the reader concluded for itself and a person should look at; empty: nothing. */
function guessesOf({ keys }: Score, warnings: readonly Problem[]): string[] {
  const guesses = warnings.filter(({ code }) => code.startsWith('guess-'));
  const unsure = keys.filter(({ sure }) => !sure).map(({ reason }) => reason);
  return [...guesses.map((each) => sentence(each) ?? ''), ...unsure];
}

interface Found {
  readonly score: Score;
  readonly warnings: readonly Problem[];
  readonly format: SongFormat;
  readonly bytes: Uint8Array;
  readonly tuneIndex: number;
}

export interface Bringing {
  readonly store: TeamStore;
  readonly doubles: Doubles;
  readonly bring: NewSongsRead['doubles'];
}

/** One song of a file: kept, whole, or left out. */
async function bringOne(
  { store, doubles, bring }: Bringing,
  file: string,
  { score: read, warnings, format, bytes, tuneIndex }: Found,
): Promise<ImportLine> {
  const score = SongFiles.titled(read, file);
  const entry = LibraryEntries.of(score, NO_DETAILS);
  const double = doubles.find(entry);
  const line = {
    file,
    title: score.facts.title,
    problems: warnings.slice(0, MOST_SAID),
    double,
  };
  if (double && bring === 'leave') {
    return { ...line, outcome: 'left out', song: null, why: sayDouble(double) };
  }
  const song = await store.together((rooms) =>
    addSong(rooms, { score, warnings, answeredKey: null, source: { format, bytes, tuneIndex } }),
  );
  doubles.add(song, entry);
  const [guess] = guessesOf(score, warnings);
  return guess === undefined
    ? { ...line, outcome: 'in', song, why: '' }
    : { ...line, outcome: 'in with guesses', song, why: guess };
}

/** A file of several tunes has a line for each of them, good or not. */
async function bringFile(
  bringing: Bringing,
  reader: Reader,
  file: string,
  whole: Uint8Array,
): Promise<ImportLine[]> {
  const lines: ImportLine[] = [];
  for (const { bytes, linesBefore } of tunesOf(whole)) {
    const result = await readSongs(reader, { bytes, as: SongFiles.formatOfFile(bytes, file) });
    const moved = placedIn({ bytes, linesBefore });
    if (!result.ok) {
      lines.push(failed(file, result.problems.map(moved)));
      continue;
    }
    const warnings = result.warnings.map(moved);
    const { format, scores } = result.value;
    for (const [tuneIndex, score] of scores.entries()) {
      lines.push(await bringOne(bringing, file, { score, warnings, format, bytes, tuneIndex }));
    }
  }
  return lines;
}

/** Lines are counted in the whole file. */
const placedIn =
  ({ linesBefore }: TuneBytes) =>
  (problem: Problem): Problem =>
    problem.line === undefined ? problem : { ...problem, line: problem.line + linesBefore };

/**
 * Brings the songs of many files, one after the other, each whole or not at all, and says what became of each. Who brings
 * songs to a book at the same moment waits, so that no song comes twice.
 */
export function importFiles(
  store: TeamStore,
  reader: Reader,
  book: Book,
  { files, doubles: bring }: NewSongsRead,
): Promise<ImportReport> {
  return inTurn(book, async () => {
    await book.update(store);
    const bringing: Bringing = { store, doubles: new Doubles(book), bring };
    const lines: ImportLine[] = [];
    for (const { name, bytes } of files) {
      const content = new Uint8Array(Buffer.from(bytes, 'base64'));
      lines.push(...(await bringFile(bringing, reader, name, content)));
    }
    return { lines };
  });
}
