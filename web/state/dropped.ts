/** A file that someone gave us, read whole. */
export interface GivenFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Reads the files of a drop or of a file field. Files above 5 MB are no songs and are left unread. */
export async function droppedFiles(files: Iterable<File> | FileList): Promise<GivenFile[]> {
  const small = [...files].filter((file) => file.size <= 5_000_000);
  return Promise.all(
    small.map(async (file) => ({
      name: file.name,
      bytes: new Uint8Array(await file.arrayBuffer()),
    })),
  );
}

/** The text of a file: UTF-8 where the bytes are, else Latin-1, as older files are written. */
export function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

/** Bytes as they travel in JSON. */
export function base64Of(bytes: Uint8Array): string {
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
}
