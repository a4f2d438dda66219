import { ChordSymbol, LibraryEntries, Scores, SongFiles, type Problem, type Score } from '#music';
import type { ImportLine, NewSongsRead } from '../../contract/library.ts';
import type { TeamStore } from '../../store/store.ts';
import { answeredScore } from '../answered-score.ts';
import { addSong } from '../import-song.ts';
import type { Reader } from '../read-songs.ts';
import { Refusal } from '../refusal.ts';
import { requireDetails } from '../require-details.ts';
import { ArchiveFiles } from './archive-files.ts';
import type { Book } from './book.ts';
import { Doubles, sayDouble } from './doubles.ts';
import { inTurn } from './in-turn.ts';
import { nameOf, readArchived, readManifest, type FoundSong } from './read-archive.ts';
import type { Bytes } from './zip-directory.ts';

const MOST_SAID = 20;

type Bring = NewSongsRead['doubles'];

const failed = (file: string, problems: readonly Problem[]): ImportLine => ({
  file,
  title: null,
  outcome: 'failed',
  song: null,
  why: problems.at(-1)?.message ?? 'There is no song in it.',
  problems: [...problems],
  double: null,
});

/** Its music as it was read, and all that was said of it since, together or not at all. */
async function keep(store: TeamStore, { song, score, source }: FoundSong): Promise<string> {
  return store.together(async (rooms) => {
    const id = await addSong(rooms, {
      score,
      warnings: song.warnings,
      answeredKey: song.answeredKey,
      details: song.details,
      source:
        song.source && source
          ? { format: song.source.format, bytes: source, tuneIndex: song.source.tune }
          : { format: 'written', bytes: new Uint8Array(), tuneIndex: 0 },
    });
    const { corrections, details } = song;
    await rooms.songs.update(id, 1, { corrections, details });
    const arrangement = await rooms.arrangements.findOfSong(id);
    const { key, tempo, density, form } = song.arrangement;
    // A key of another mode would make another song of it.
    const fits = key.mode === arrangement?.key.mode;
    if (arrangement) {
      await rooms.arrangements.update(arrangement.id, arrangement.version, {
        ...(fits && { key }),
        tempo,
        density,
        form,
      });
    }
    return id;
  });
}

/** What of a song would not be taken if it were written here, so that no later change of it could be kept; empty: all holds together. */
function brokenIn({ song }: FoundSong, whole: Score): readonly Problem[] {
  for (const { symbol } of song.corrections) {
    const read = symbol === null ? null : ChordSymbol.read(symbol);
    if (read && !read.ok) {
      return read.problems.map((each) => ({ ...each, message: `“${symbol}”: ${each.message}` }));
    }
  }
  try {
    requireDetails(song.details);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return error.facts.problems ?? [{ code: error.code, message: error.message }];
  }
  return Scores.check(whole);
}

async function bringSong(
  store: TeamStore,
  doubles: Doubles,
  bring: Bring,
  file: string,
  read: FoundSong,
): Promise<ImportLine> {
  // Its folder is called as the song is, as far as it can be.
  const found = { ...read, score: SongFiles.titled(read.score, `${read.song.folder}.`) };
  const { song, score, remarks } = found;
  const whole = answeredScore({ ...song, score });
  const broken = brokenIn(found, whole);
  if (broken[0]) return failed(file, [...broken.slice(1, MOST_SAID), broken[0]]);
  const entry = LibraryEntries.of(whole, song.details);
  const double = doubles.find(entry);
  const line = { file, title: score.facts.title, problems: [...remarks], double };
  if (double && bring === 'leave') {
    return { ...line, outcome: 'left out', song: null, why: sayDouble(double) };
  }
  // What stands in one archive stood in one book: its songs are no doubles of each other.
  const id = await keep(store, found);
  const [remark] = remarks;
  return remark
    ? { ...line, outcome: 'in with guesses', song: id, why: remark.message }
    : { ...line, outcome: 'in', song: id, why: '' };
}

/** An archive that was opened: what it says it holds, each song still as it stands there. */
export interface OpenArchive {
  readonly files: ArchiveFiles;
  readonly entries: readonly unknown[];
}

/** Refuses what is no archive of a library, before anything of it is kept. */
export async function openArchive(zip: Bytes): Promise<OpenArchive> {
  const files = await ArchiveFiles.open(zip);
  return { files, entries: await readManifest(files) };
}

/** What of an archive is brought, and who hears of it. */
export interface ArchiveImport {
  readonly bring: Bring;
  /** Songs of the archive that are passed over, from its first. */
  readonly from: number;
  /** Songs that are brought at most. */
  readonly most: number;
  /** Told before the first song. */
  readonly onbegin: (count: number) => void;
  /** Told of each song, once it is in or it is known that it will not be. */
  readonly online: (line: ImportLine) => void;
  /** Asked before each song: whether no more are wanted. */
  readonly isStopped: () => boolean;
}

/** What is said of a song that nobody had time to read; the others still come. */
async function readOrSay(
  entry: unknown,
  files: ArchiveFiles,
  reader: Reader,
): Promise<FoundSong | readonly Problem[]> {
  try {
    return await readArchived(entry, files, reader);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return [{ code: error.code, message: error.message }];
  }
}

/**
 * Brings a library back that was taken out; each song comes whole or not at all. Whoever waits for it hears of every song
 * that is in, also where it is stopped.
 */
export function importArchive(
  store: TeamStore,
  reader: Reader,
  book: Book,
  { files, entries }: OpenArchive,
  { bring, from, most, onbegin, online, isStopped }: ArchiveImport,
): Promise<void> {
  return inTurn(book, async () => {
    await book.update(store);
    const doubles = new Doubles(book);
    const asked = entries.slice(from, from + most);
    onbegin(asked.length);
    for (const [index, entry] of asked.entries()) {
      if (isStopped()) return;
      const file = nameOf(entry, from + index);
      const found = await readOrSay(entry, files, reader);
      online(
        'song' in found ? await bringSong(store, doubles, bring, file, found) : failed(file, found),
      );
    }
  });
}
