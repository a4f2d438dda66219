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
const END_LENGTH = 22;
const LONGEST_COMMENT = 65_535;
const UTF8 = 0x800;

const viewOf = ({ buffer, byteOffset, byteLength }: Uint8Array): DataView =>
  new DataView(buffer, byteOffset, byteLength);

/** The table of contents; null where there is none, or it is cut off. Zips of more than 65,535 files (zip64) are not read. */
export function directoryOf(bytes: Uint8Array): ZipEntry[] | null {
  const view = viewOf(bytes);
  let end = bytes.length - END_LENGTH;
  const lowest = Math.max(0, end - LONGEST_COMMENT);
  while (end >= lowest && view.getUint32(end, true) !== END) end -= 1;
  if (end < lowest) return null;
  const entries: ZipEntry[] = [];
  let at = view.getUint32(end + 16, true);
  for (let left = view.getUint16(end + 10, true); left > 0; left -= 1) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== ENTRY) return null;
    const after = at + 46 + view.getUint16(at + 28, true);
    if (after > bytes.length) return null;
    const encoding = view.getUint16(at + 8, true) & UTF8 ? 'utf8' : 'latin1';
    entries.push({
      name: Buffer.from(bytes.buffer, bytes.byteOffset + at + 46, after - at - 46).toString(
        encoding,
      ),
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
export function packedBytes(bytes: Uint8Array, { header, packed }: ZipEntry): Uint8Array | null {
  const view = viewOf(bytes);
  if (header + 30 > bytes.length || view.getUint32(header, true) !== FILE) return null;
  const from = header + 30 + view.getUint16(header + 26, true) + view.getUint16(header + 28, true);
  return from + packed > bytes.length ? null : bytes.subarray(from, from + packed);
}
