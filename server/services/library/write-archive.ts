import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import { Zip, ZipDeflate, type ZipInputFile } from 'fflate';
import { Abc, MusicXml, Reduction, WordsAndChords } from '#music';
import { ARCHIVE, SCORE_FILES, type ArchivedSong } from '../../contract/archive.ts';
import { SongDetails } from '../../contract/library.ts';
import type { StoredArrangement } from '../../store/arrangements.store.ts';
import type { SongSource, StoredSong } from '../../store/songs.store.ts';
import type { TeamStore } from '../../store/store.ts';
import { answeredScore } from '../answered-score.ts';
import { Refusal } from '../refusal.ts';
import { sourceEnding } from '../source-type.ts';
import { FolderNames } from './folder-names.ts';

/** A zip counts its files in 16 bits (APPNOTE 6.3.10, 4.4.22): four of each song, and the manifest. */
const MOST_SONGS = Math.floor((0xffff - 1) / 4);

const utf8 = new TextEncoder();
const hashOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** The first moment a zip can name, on whatever clocks: the same library is the same bytes. */
const ALWAYS = new Date(1980, 0, 1);

/** What a writer cannot write is left out: the music whole and exact is there in any case. */
function ifWritable(write: () => string): string | null {
  try {
    return write();
  } catch {
    return null;
  }
}

/** A song in the formats that can hold it, with the chords that are played. */
function openFilesOf(song: StoredSong, { density }: StoredArrangement): [string, string][] {
  const score = answeredScore(song);
  const texts: [string, string | null][] = score.untimed
    ? [[SCORE_FILES.words, ifWritable(() => WordsAndChords.write(score))]]
    : [
        [
          SCORE_FILES.musicxml,
          ifWritable(() => MusicXml.write(Reduction.withChords(score, { density }))),
        ],
        [SCORE_FILES.abc, ifWritable(() => Abc.write(Reduction.withChords(score, { density })))],
      ];
  return texts.flatMap(([name, text]) => (text === null ? [] : [[name, text]]));
}

interface Written {
  readonly song: StoredSong;
  readonly arrangement: StoredArrangement;
  readonly source: SongSource | null;
}

function filesOf({ song, arrangement, source }: Written): Map<string, Uint8Array> {
  const files = new Map<string, Uint8Array>();
  files.set(SCORE_FILES.score, utf8.encode(JSON.stringify(song.score)));
  for (const [name, text] of openFilesOf(song, arrangement)) files.set(name, utf8.encode(text));
  if (source) files.set(`source.${sourceEnding(source)}`, source.bytes);
  return files;
}

function archived(
  folder: string,
  { song, arrangement, source }: Written,
  files: ReadonlyMap<string, Uint8Array>,
): ArchivedSong {
  const { key, tempo, density, form } = arrangement;
  return {
    folder,
    title: song.title,
    files: Object.fromEntries([...files].map(([name, bytes]) => [name, hashOf(bytes)])),
    source:
      source && source.format !== 'written'
        ? { file: `source.${sourceEnding(source)}`, format: source.format, tune: source.tuneIndex }
        : null,
    answeredKey: song.answeredKey,
    corrections: [...song.corrections],
    warnings: [...song.warnings],
    details: SongDetails.parse(song.details),
    // Who leads a pass is a person of this team.
    arrangement: { key, tempo, density, form: form && form.map(({ lead: _, ...pass }) => pass) },
  };
}

async function findWritten(store: TeamStore, id: string): Promise<Written | null> {
  const song = await store.songs.find(id);
  const arrangement = song && (await store.arrangements.findOfSong(id));
  if (!song || !arrangement) return null;
  const source = await store.songs.findSource(id);
  return { song, arrangement, source: source?.format === 'written' ? null : source };
}

/**
 * The library as one archive, a piece at a time: songs are read, written and sent one after another, so that it takes no
 * more memory however large it is. A song that is deleted meanwhile is not in it.
 */
async function* writeArchive(store: TeamStore, ids: readonly string[]): AsyncGenerator<Uint8Array> {
  let pieces: Uint8Array[] = [];
  const zip = new Zip((error, piece) => {
    if (error) throw error;
    pieces.push(piece);
  });
  const put = (name: string, bytes: Uint8Array): void => {
    const file: ZipInputFile & { push: ZipDeflate['push'] } = new ZipDeflate(name, { level: 6 });
    file.mtime = ALWAYS;
    zip.add(file);
    file.push(bytes, true);
  };
  const taken = (): Uint8Array => {
    const all = Buffer.concat(pieces);
    pieces = [];
    return all;
  };
  const names = new FolderNames();
  const songs: ArchivedSong[] = [];
  for (const id of ids) {
    const written = await findWritten(store, id);
    if (!written) continue;
    const folder = `songs/${names.for(written.song.title)}`;
    const files = filesOf(written);
    for (const [name, bytes] of files) put(`${folder}/${name}`, bytes);
    songs.push(archived(folder, written, files));
    yield taken();
  }
  put('manifest.json', utf8.encode(JSON.stringify({ ...ARCHIVE, songs }, null, 1)));
  zip.end();
  yield taken();
}

/** The same, to be sent as it is made. Refuses a library of more songs than a zip can have files of. */
export async function archiveStream(store: TeamStore): Promise<Readable> {
  const songs = await store.songs.list('present');
  if (songs.length > MOST_SONGS) {
    const say = (count: number): string => count.toLocaleString('en-GB');
    throw new Refusal(
      'not-possible',
      `The book has ${say(songs.length)} songs, and one archive holds ${say(MOST_SONGS)}. Take some of them out one by one, each from its own page, or copy the file of the database.`,
    );
  }
  const ids = songs.map(({ id }) => id);
  return Readable.from(writeArchive(store, ids), { objectMode: false });
}
