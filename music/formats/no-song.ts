import type { Problem } from '../result.ts';
import { decode, fromCodes } from './bytes.ts';
import type { SongFormat } from './song-format.ts';

interface Signature {
  readonly begins: RegExp;
  readonly message: string;
}

const PICTURE =
  'a picture of a page, no song that can be read. Bring the song as text, MusicXML, ABC or MIDI, or write it here.';
const COPY = 'Copy the words with their chords out of it and paste them here.';

/** How files begin that are no songs; each by its standard. */
const SIGNATURES: readonly Signature[] = [
  // ISO 32000-1, 7.5.2; readers accept some bytes before it (its annex H, note 13).
  { begins: /^[^]{0,1019}%PDF-\d/, message: `This is a PDF: ${PICTURE}` },
  // PNG 1.2, 5.2.
  { begins: /^\x89PNG\r\n/, message: `This is a PNG: ${PICTURE}` },
  // ITU-T T.81, B.1.1.3 and B.2.1: SOI, and another marker behind it.
  { begins: /^\xff\xd8\xff/, message: `This is a JPEG: ${PICTURE}` },
  // GIF 89a, 17.
  { begins: /^GIF8[79]a/, message: `This is a GIF: ${PICTURE}` },
  // RTF 1.9, "File header".
  { begins: /^\s*\{\\rtf/, message: `This is a document in RTF, which is not read. ${COPY}` },
  // WHATWG MIME Sniffing, 7.1.
  {
    begins: /^(\xef\xbb\xbf)?\s*(<!DOCTYPE\s+html|<html|<head|<body)[\s>]/i,
    message: `This is a web page, which is not read. ${COPY}`,
  },
];
const HEAD = 2000;

/** APPNOTE 6.3.10, 4.3.7: every zip that holds a file begins so, whatever program calls it its document. */
const ZIP = 'PK\x03\x04';
const IN_ZIP = `This is a zip, as documents of office programs are, which is not read as text. ${COPY}`;
const NO_TEXT =
  'This file is no text, no MusicXML and no MIDI: it holds bytes that no text has. It may be damaged or not copied whole; take it anew from where it came from.';

/** Why some bytes are no song, whatever they are called; null: they may be one. */
export function whyNoSong(bytes: Uint8Array, as: SongFormat): Problem | null {
  const head = fromCodes(bytes.subarray(0, HEAD));
  const code = 'no-song';
  const found = SIGNATURES.find(({ begins }) => begins.test(head));
  if (found) return { code, message: found.message };
  if (as === 'musicxml' || as === 'midi') return null;
  if (head.startsWith(ZIP)) return { code, message: IN_ZIP };
  const isWide = /^(\xff\xfe|\xfe\xff)/.test(head);
  const holdsNought = isWide ? decode(bytes).text.includes('\0') : bytes.includes(0);
  return holdsNought ? { code: 'no-text', message: NO_TEXT } : null;
}
