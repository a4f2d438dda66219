import { createHash } from 'node:crypto';
import type { Problem, Result, Score } from '#music';
import { ArchivedSong, ArchiveManifest, SCORE_FILES } from '../../contract/archive.ts';
import { readScore, readSongs, type Reader } from '../read-songs.ts';
import { unreadable, type ArchiveFiles } from './archive-files.ts';
import { boundedJson } from '../../reading/bounded-json.ts';

/** Bytes of what an archive says it holds, whose songs take some thousand each; and of all files of one song. */
const LARGEST_MANIFEST = 48 * 1024 * 1024;
const LARGEST_SONG = 16 * 1024 * 1024;

/** What the archive says it holds; each song still as it stands there. */
export async function readManifest(files: ArchiveFiles): Promise<readonly unknown[]> {
  if (!files.has('manifest.json')) {
    throw unreadable(
      'The archive has no manifest.json, so it is no library that was taken out here. Bring its files as a folder.',
    );
  }
  const bytes = await files.take('manifest.json', LARGEST_MANIFEST);
  const read = ArchiveManifest.safeParse(bytes && boundedJson(bytes));
  if (read.success) return read.data.songs;
  throw unreadable(
    'The manifest.json of the archive is broken, or of a layout that is not known here.',
  );
}

/** A song of an archive, with its music read and its source. */
export interface FoundSong {
  readonly song: ArchivedSong;
  readonly score: Score;
  /** Missing: it has none, or what is there is not what was put in. */
  readonly source: Uint8Array | null;
  /** What was not as it should be and could be done without. */
  readonly remarks: readonly Problem[];
}

const problem = (code: string, message: string): Problem => ({ code, message });

/** Which song of the manifest it is, to be named where it cannot be read. */
export function nameOf(entry: unknown, index: number): string {
  const folder: unknown = (entry as { folder?: unknown } | null)?.folder;
  return typeof folder === 'string' && folder.length <= 200 ? folder : `song ${index + 1}`;
}

/** The music first: what comes late may find no room. */
const ORDER: readonly string[] = Object.values(SCORE_FILES);
const orderOf = (name: string): number =>
  ORDER.indexOf(name) < 0 ? ORDER.length : ORDER.indexOf(name);

/** The files of a song that are there and are what was put in, and what is wrong with the others. */
async function checkedFiles(song: ArchivedSong, files: ArchiveFiles) {
  const good = new Map<string, Uint8Array>();
  const remarks: Problem[] = [];
  let room = LARGEST_SONG;
  for (const name of Object.keys(song.files).sort((a, b) => orderOf(a) - orderOf(b))) {
    const bytes = await files.take(`${song.folder}/${name}`, room);
    room -= bytes?.length ?? 0;
    if (!bytes) {
      remarks.push(
        problem('file-missing', `${name} is missing from the archive, or cannot be unpacked.`),
      );
    } else if (createHash('sha256').update(bytes).digest('hex') !== song.files[name]) {
      remarks.push(
        problem(
          'file-changed',
          `${name} is not what was put into the archive: it was changed or damaged since.`,
        ),
      );
    } else good.set(name, bytes);
  }
  return { good, remarks };
}

async function scoreOf(
  good: ReadonlyMap<string, Uint8Array>,
  reader: Reader,
): Promise<Result<Score> | null> {
  const exact = good.get(SCORE_FILES.score);
  const whole = exact ? await readScore(reader, exact) : null;
  if (whole?.ok) return whole;
  const formats = [
    [SCORE_FILES.musicxml, 'musicxml'],
    [SCORE_FILES.abc, 'abc'],
    [SCORE_FILES.words, 'words'],
  ] as const;
  for (const [name, as] of formats) {
    const bytes = good.get(name);
    const read = bytes && (await readSongs(reader, { bytes, as }));
    const score = read?.ok ? read.value.scores[0] : undefined;
    if (score) return { ok: true, value: score, warnings: [] };
  }
  return whole;
}

/** One song of the manifest with its files, or what is wrong with it. */
export async function readArchived(
  entry: unknown,
  files: ArchiveFiles,
  reader: Reader,
): Promise<FoundSong | readonly Problem[]> {
  const read = ArchivedSong.safeParse(entry);
  if (!read.success) {
    const where = read.error.issues[0]?.path.join('.') ?? '';
    return [
      problem(
        'broken-entry',
        `What manifest.json says of this song does not fit${where && `: ${where}`}.`,
      ),
    ];
  }
  const song = read.data;
  if (files.isSpent) {
    return [
      problem(
        'archive-too-large',
        'The archive unpacks to more than a library of its size holds, so this song was not unpacked.',
      ),
    ];
  }
  const { good, remarks } = await checkedFiles(song, files);
  const score = await scoreOf(good, reader);
  if (!score) {
    return [...remarks, problem('no-music', 'No file of this song’s music is whole.')];
  }
  if (!score.ok) return score.problems;
  const source = song.source && good.get(song.source.file);
  return { song, score: score.value, source: source ?? null, remarks };
}
