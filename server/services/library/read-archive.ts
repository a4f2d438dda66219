import { createHash } from 'node:crypto';
import { Scores, type Problem, type Result, type Score } from '#music';
import { ArchivedSong, ArchiveManifest, SCORE_FILES } from '../../contract/archive.ts';
import { readSongs, type Reader } from '../read-songs.ts';
import { Refusal } from '../refusal.ts';
import type { ArchiveFiles } from './archive-files.ts';

const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

function parsed(bytes: Uint8Array | undefined): unknown {
  if (!bytes) return null;
  try {
    return JSON.parse(text(bytes)) as unknown;
  } catch {
    return null;
  }
}

/** What the archive says it holds; each song still as it stands there. */
export function readManifest(files: ArchiveFiles): readonly unknown[] {
  const refuse = (why: string): never => {
    throw new Refusal('unreadable-archive', `${why} Nothing was kept.`);
  };
  if (!files.has('manifest.json')) {
    refuse(
      'The archive has no manifest.json, so it is no library that was taken out here. Bring its files as a folder.',
    );
  }
  const manifest = parsed(files.take(['manifest.json']).get('manifest.json'));
  const read = ArchiveManifest.safeParse(manifest);
  if (!read.success) {
    return refuse(
      'The manifest.json of the archive is broken, or of a layout that is not known here.',
    );
  }
  return read.data.songs;
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

/** The files of a song that are there and are what was put in, and what is wrong with the others. */
function checkedFiles(song: ArchivedSong, files: ArchiveFiles) {
  const names = Object.keys(song.files);
  const taken = files.take(names.map((name) => `${song.folder}/${name}`));
  const good = new Map<string, Uint8Array>();
  const remarks: Problem[] = [];
  for (const name of names) {
    const bytes = taken.get(`${song.folder}/${name}`);
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
  const whole = exact && Scores.read(parsed(exact));
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
  return whole ?? null;
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
  const { good, remarks } = checkedFiles(song, files);
  const score = await scoreOf(good, reader);
  if (!score) {
    return [...remarks, problem('no-music', 'No file of this song’s music is whole.')];
  }
  if (!score.ok) return score.problems;
  const source = song.source && good.get(song.source.file);
  return { song, score: score.value, source: source ?? null, remarks };
}
