/** A file that someone gave us, read whole. */
export interface GivenFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** A file that someone gave us, not read yet. */
export interface FoundFile {
  /** With the folders it lay in: `hymns/advent/Picardy.abc`. */
  readonly path: string;
  readonly file: File;
}

/** What is read here, by the ends of the names: notation, words, MIDI, and archives of a whole book. */
export const ENDINGS = [
  'abc',
  'txt',
  'text',
  'musicxml',
  'xml',
  'mxl',
  'mid',
  'midi',
  'rmi',
  'zip',
] as const;

/** As a file field takes it. */
export const ACCEPTED = ENDINGS.map((ending) => `.${ending}`).join(',');

/** Bytes. Larger files are no songs; an archive holds a whole book. */
const LARGEST_SONG = 8_000_000;
const LARGEST_ARCHIVE = 256_000_000;

const endingOf = (path: string): string => /\.([^./]+)$/.exec(path)?.[1]?.toLowerCase() ?? '';

export function isArchive({ path }: FoundFile): boolean {
  return endingOf(path) === 'zip';
}

/** What systems leave in folders without being asked: names that begin with a dot, and the like. */
const isLitter = ({ path }: FoundFile): boolean =>
  /(^|\/)(\.|__MACOSX\/|thumbs\.db$|desktop\.ini$)/i.test(path);

/** Files that may hold songs, by name, and the others with why they are none; what systems leave behind is not mentioned. */
export function sortOut(files: readonly FoundFile[]): {
  readonly songs: readonly FoundFile[];
  readonly others: readonly { readonly path: string; readonly why: string }[];
} {
  const songs: FoundFile[] = [];
  const others: { path: string; why: string }[] = [];
  const named = files
    .filter((each) => !isLitter(each))
    .toSorted((a, b) => a.path.localeCompare(b.path, 'en', { numeric: true }));
  for (const found of named) {
    const { path, file } = found;
    const most = isArchive(found) ? LARGEST_ARCHIVE : LARGEST_SONG;
    if (!(ENDINGS as readonly string[]).includes(endingOf(path))) {
      others.push({ path, why: `Files of this kind are not read; those that are end in ${ENDINGS.map((each) => `.${each}`).join(' ')}.` }); // prettier-ignore
    } else if (file.size > most) {
      others.push({ path, why: `It is larger than ${most / 1_000_000} MB; a song never is.` });
    } else songs.push(found);
  }
  return { songs, others };
}

/** The files of a file field, with the folder they were chosen in. */
export function filesOfField(files: Iterable<File> | FileList): FoundFile[] {
  return [...files].map((file) => ({ path: file.webkitRelativePath || file.name, file }));
}

const childrenOf = (reader: FileSystemDirectoryReader): Promise<FileSystemEntry[]> =>
  new Promise((done, fail) => reader.readEntries(done, fail));

async function filesIn(entry: FileSystemEntry): Promise<FoundFile[]> {
  const path = entry.fullPath.replace(/^\//, '');
  if (entry.isFile) {
    const file = await new Promise<File>((done, fail) =>
      (entry as FileSystemFileEntry).file(done, fail),
    );
    return [{ path, file }];
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  const found: FoundFile[] = [];
  // A reader gives some at a time, and nothing when it is done (File and Directory Entries API, 7.4).
  for (let some = await childrenOf(reader); some.length > 0; some = await childrenOf(reader)) {
    for (const child of some) found.push(...(await filesIn(child)));
  }
  return found;
}

/** The files of a drop, those in folders too. To be called in the event itself: a drop is empty after it. */
export async function filesOfDrop(transfer: DataTransfer): Promise<FoundFile[]> {
  const items = [...transfer.items].filter(({ kind }) => kind === 'file');
  const given = items.map((item) => ({ entry: item.webkitGetAsEntry(), file: item.getAsFile() }));
  const found: FoundFile[] = [];
  for (const { entry, file } of given) {
    if (entry) found.push(...(await filesIn(entry)));
    else if (file) found.push({ path: file.name, file });
  }
  return found;
}

export async function readFile({ path, file }: FoundFile): Promise<GivenFile> {
  return { name: path, bytes: new Uint8Array(await file.arrayBuffer()) };
}

/** The text of a file: UTF-8 where the bytes are, else Latin-1, as older files are written. */
export function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

/** Letters of base64 come from three bytes each four; so many at a time keep the call small. */
const PIECE = 30_000;

/** Bytes as they travel in JSON. */
export function base64Of(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += PIECE) {
    text += btoa(String.fromCharCode(...bytes.subarray(at, at + PIECE)));
  }
  return text;
}
