/** Bytes that are read where they lie, on a disk or in memory. */
export interface Bytes {
  readonly size: number;
  /** Those from `from` on, fewer where they end. */
  readonly read: (from: number, length: number) => Promise<Uint8Array>;
}

/** A file of a zip, as its table of contents has it (PKWARE APPNOTE 6.3.10, section 4.3.12). */
export interface ZipEntry {
  readonly name: string;
  /** 0: as it is; 8: deflated (section 4.4.5). */
  readonly method: number;
  /** Bytes in the zip, and what the zip says they unpack to; both may lie. */
  readonly packed: number;
  readonly size: number;
  /** Where its own header begins. */
  readonly header: number;
}

const [FILE, ENTRY, END] = [0x04034b50, 0x02014b50, 0x06054b50];
const [FILE_LENGTH, ENTRY_LENGTH, END_LENGTH] = [30, 46, 22];
const LONGEST_COMMENT = 65_535;
const UTF8 = 0x800;
/** Bytes of a table of contents: of 65,535 files, each with a name five times as long as a song's. */
const LARGEST_TABLE = 32 * 1024 * 1024;

const viewOf = ({ buffer, byteOffset, byteLength }: Uint8Array): DataView =>
  new DataView(buffer, byteOffset, byteLength);

interface Table {
  readonly at: number;
  readonly count: number;
  readonly end: number;
}

/** Where the table of contents is, by what stands at the end of a zip (section 4.3.16). */
async function findTable(zip: Bytes): Promise<Table | null> {
  const from = Math.max(0, zip.size - END_LENGTH - LONGEST_COMMENT);
  const tail = await zip.read(from, zip.size - from);
  const view = viewOf(tail);
  let end = tail.length - END_LENGTH;
  while (end >= 0 && view.getUint32(end, true) !== END) end -= 1;
  if (end < 0) return null;
  return {
    at: view.getUint32(end + 16, true),
    count: view.getUint16(end + 10, true),
    end: from + end,
  };
}

/** The table of contents; null where there is none, or it is cut off. Zips of more than 65,535 files (zip64) are not read. */
export async function directoryOf(zip: Bytes): Promise<ZipEntry[] | null> {
  const table = await findTable(zip);
  if (!table || table.at > table.end || table.end - table.at > LARGEST_TABLE) return null;
  const bytes = await zip.read(table.at, table.end - table.at);
  const view = viewOf(bytes);
  const entries: ZipEntry[] = [];
  let at = 0;
  for (let left = table.count; left > 0; left -= 1) {
    if (at + ENTRY_LENGTH > bytes.length || view.getUint32(at, true) !== ENTRY) return null;
    const name = at + ENTRY_LENGTH;
    const after = name + view.getUint16(at + 28, true);
    if (after > bytes.length) return null;
    const encoding = view.getUint16(at + 8, true) & UTF8 ? 'utf8' : 'latin1';
    entries.push({
      name: Buffer.from(bytes.buffer, bytes.byteOffset + name, after - name).toString(encoding),
      method: view.getUint16(at + 10, true),
      packed: view.getUint32(at + 20, true),
      size: view.getUint32(at + 24, true),
      header: view.getUint32(at + 42, true),
    });
    at = after + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return entries;
}

/** The bytes of a file as they are in the zip; null where its header is not, or they are cut off. */
export async function packedBytes(
  zip: Bytes,
  { header, packed }: ZipEntry,
): Promise<Uint8Array | null> {
  const head = await zip.read(header, FILE_LENGTH);
  if (head.length < FILE_LENGTH) return null;
  const view = viewOf(head);
  if (view.getUint32(0, true) !== FILE) return null;
  const from = header + FILE_LENGTH + view.getUint16(26, true) + view.getUint16(28, true);
  if (from + packed > zip.size) return null;
  return zip.read(from, packed);
}
