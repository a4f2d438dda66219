import { Inflate } from 'fflate';
import { newReport, quoted, type Report } from '../../report.ts';
import { MOST_ENTRIES, MOST_PACKED, MOST_UNPACKED } from './limits.ts';
import { xmlText } from './xml-text.ts';

/** A file in an archive, as its table of contents has it (PKWARE APPNOTE 6.3, section 4.3.12). */
interface Entry {
  readonly name: string;
  readonly method: number;
  readonly encrypted: boolean;
  readonly crc: number;
  readonly packed: number;
  readonly header: number;
}

const CONTAINER = 'META-INF/container.xml';

export function isZip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b;
}

/** The text of the score in compressed MusicXML; null where there is none (the report says why). */
export function scoreInArchive(bytes: Uint8Array, report: Report): string | null {
  const at = { line: 1 };
  if (bytes.length > MOST_PACKED) {
    const words = `This file has ${String(bytes.length)} bytes; ${String(MOST_PACKED)} are the most that are unpacked.`;
    report.problem('file-too-large', words, at);
    return null;
  }
  const entries = entriesOf(bytes);
  if (!entries) {
    const words =
      'The compressed file is damaged or cut off: its table of contents cannot be read.';
    report.problem('zip-broken', words, at);
    return null;
  }
  if (entries.length > MOST_ENTRIES) {
    const words = `The compressed file holds ${String(entries.length)} files; ${String(MOST_ENTRIES)} are the most.`;
    report.problem('zip-too-many', words, at);
    return null;
  }
  return new Archive(bytes, entries, report).score();
}

class Archive {
  readonly #bytes: Uint8Array;
  readonly #entries: readonly Entry[];
  readonly #report: Report;
  #unpacked = 0;

  constructor(bytes: Uint8Array, entries: readonly Entry[], report: Report) {
    this.#bytes = bytes;
    this.#entries = entries;
    this.#report = report;
  }

  score(): string | null {
    const named = this.#named();
    if (named === undefined) return null;
    const scores = this.#entries.filter(
      ({ name }) => /\.(musicxml|xml)$/i.test(name) && !/^META-INF\//i.test(name),
    );
    const entry = named ?? null;
    if (entry) return this.#text(entry);
    for (const other of scores) {
      const bytes = this.#content(other);
      if (bytes === null) return null;
      if (!/<score-(partwise|timewise)[\s>]/.test(this.#start(bytes))) continue;
      const text = xmlText(bytes, this.#report);
      const words = `The compressed file does not say rightly which of its files is the score; ${quoted(other.name)} is taken.`;
      this.#report.warn('container-wrong', words, { line: 1 });
      return text;
    }
    const words = 'The compressed file holds no MusicXML score.';
    this.#report.problem('zip-without-score', words, { line: 1 });
    return null;
  }

  /** The file that the container names; null where it names none that is here; undefined: unreadable. */
  #named(): Entry | null | undefined {
    const container = this.#entries.find(({ name }) => name === CONTAINER);
    if (!container) return null;
    const text = this.#text(container);
    if (text === null) return undefined;
    // The first root file is the score (MusicXML 4.0, "Compressed .mxl files").
    const path = /<rootfile\b[^>]*?full-path\s*=\s*(?:"([^"]*)"|'([^']*)')/.exec(text);
    const wanted = path?.[1] ?? path?.[2];
    return this.#entries.find(({ name }) => name === wanted) ?? null;
  }

  /** Where a file says what it is. */
  #start(bytes: Uint8Array): string {
    return xmlText(bytes.subarray(0, START), newReport());
  }

  #text(entry: Entry): string | null {
    const bytes = this.#content(entry);
    return bytes && xmlText(bytes, this.#report);
  }

  #content(entry: Entry): Uint8Array | null {
    const name = quoted(entry.name);
    const at = { line: 1 };
    if (entry.encrypted) {
      this.#report.problem('zip-locked', `${name} in the compressed file is locked.`, at);
      return null;
    }
    const from = contentFrom(this.#bytes, entry);
    const content = from === null ? null : this.#inflate(entry, from);
    if (content === 'too-large') {
      const words = `${name} unpacks to more than ${String(MOST_UNPACKED)} bytes; nothing of it is read.`;
      this.#report.problem('zip-too-large', words, at);
      return null;
    }
    if (!content || crc32(content) !== entry.crc) {
      const words = `${name} in the compressed file is damaged; perhaps it was not copied to its end.`;
      this.#report.problem('zip-broken', words, at);
      return null;
    }
    return content;
  }

  /** Unpacks in small steps and counts: a few bytes can stand for a thousand times as many. */
  #inflate(entry: Entry, from: number): Uint8Array | 'too-large' | null {
    const packed = this.#bytes.subarray(from, from + entry.packed);
    if (packed.length < entry.packed) return null;
    if (entry.method === 0) {
      this.#unpacked += packed.length;
      return this.#unpacked > MOST_UNPACKED ? 'too-large' : packed;
    }
    if (entry.method !== 8) return null;
    const pieces: Uint8Array[] = [];
    let length = 0;
    const inflate = new Inflate((piece) => {
      pieces.push(piece);
      length += piece.length;
      this.#unpacked += piece.length;
    });
    try {
      for (let at = 0; at < packed.length; at += STEP) {
        inflate.push(packed.subarray(at, at + STEP), at + STEP >= packed.length);
        if (this.#unpacked > MOST_UNPACKED) return 'too-large';
      }
    } catch {
      return null;
    }
    const whole = new Uint8Array(length);
    let at = 0;
    for (const piece of pieces) {
      whole.set(piece, at);
      at += piece.length;
    }
    return whole;
  }
}

/** Bytes in which a root element comes. */
const START = 20_000;
/** Bytes unpacked at once: at most about a million come of them. */
const STEP = 1024;
/** Length of the record that ends an archive, and how much comment may follow it. */
const END = 22;
const LONGEST_COMMENT = 65_535;

/** The table of contents; null where there is none or it cannot be. */
function entriesOf(bytes: Uint8Array): Entry[] | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let end = bytes.length - END;
  const lowest = Math.max(0, end - LONGEST_COMMENT);
  while (end >= lowest && view.getUint32(end, true) !== 0x06054b50) end -= 1;
  if (end < lowest || end < 0) return null;
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  const entries: Entry[] = [];
  for (let i = 0; i < count && entries.length <= MOST_ENTRIES; i += 1) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== 0x02014b50) return null;
    const nameLength = view.getUint16(at + 28, true);
    const after = at + 46 + nameLength;
    if (after > bytes.length) return null;
    entries.push({
      name: nameOf(bytes.subarray(at + 46, after)),
      encrypted: (view.getUint16(at + 8, true) & 1) === 1,
      method: view.getUint16(at + 10, true),
      crc: view.getUint32(at + 16, true),
      packed: view.getUint32(at + 20, true),
      header: view.getUint32(at + 42, true),
    });
    at = after + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return entries;
}

/** Names are compared, never used as paths: one that climbs out of its folder reaches nothing. */
function nameOf(bytes: Uint8Array): string {
  return [...bytes]
    .map((code) => String.fromCharCode(code))
    .join('')
    .replaceAll('\\', '/');
}

/** Where the content of an entry begins, behind its own header; null where there is no such header. */
function contentFrom(bytes: Uint8Array, { header }: Entry): number | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (header + 30 > bytes.length || view.getUint32(header, true) !== 0x04034b50) return null;
  return header + 30 + view.getUint16(header + 26, true) + view.getUint16(header + 28, true);
}

const CRC = Array.from({ length: 256 }, (_, byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  return crc >>> 0;
});

function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) crc = (crc >>> 8) ^ (CRC[(crc ^ byte) & 0xff] ?? 0);
  return (crc ^ 0xffffffff) >>> 0;
}
