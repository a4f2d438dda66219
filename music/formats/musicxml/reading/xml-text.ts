import { decode, fromCodes, withoutMark } from '../../bytes.ts';
import type { Report } from '../../report.ts';

/** Code units of UTF-16 without a byte order mark, which begins with `<` (XML 1.0, appendix F). */
function utf16Without(bytes: Uint8Array): string | null {
  const little = bytes[0] === 0x3c && bytes[1] === 0;
  const big = bytes[0] === 0 && bytes[1] === 0x3c;
  if (!little && !big) return null;
  const marked = new Uint8Array(bytes.length + 2);
  marked.set(little ? [0xff, 0xfe] : [0xfe, 0xff]);
  marked.set(bytes, 2);
  return decode(marked).text;
}

/** What the first line declares: `<?xml version="1.0" encoding="ISO-8859-1"?>`; in small letters. */
function declared(bytes: Uint8Array): string | null {
  const head = fromCodes(bytes.subarray(0, 200));
  const match = /^(?:\u00ef\u00bb\u00bf)?<\?xml[^>]*?encoding\s*=\s*["']([\w.:-]+)["']/.exec(head);
  return match?.[1]?.toLowerCase() ?? null;
}

/** What Windows puts where Latin-1 has control signs, 0x80 to 0x9f; files that say Latin-1 mean it (WHATWG Encoding). */
const WINDOWS = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';
const windowsText = (bytes: Uint8Array): string =>
  fromCodes(bytes).replace(
    /[\u0080-\u009f]/g,
    (sign) => WINDOWS[sign.charCodeAt(0) - 0x80] ?? sign,
  );

const LATIN_1 = ['iso-8859-1', 'iso_8859-1', 'latin1', 'latin-1', 'windows-1252', 'cp1252'];

/**
 * The text of an XML file: UTF-16 by its mark or its first sign, Latin-1 where it is declared, else UTF-8; bytes that
 * are not are Latin-1, and that is told.
 */
export function xmlText(bytes: Uint8Array, report: Report): string {
  const wide = utf16Without(bytes);
  if (wide !== null) return wide;
  const encoding = declared(bytes);
  if (encoding !== null && LATIN_1.includes(encoding)) return windowsText(bytes);
  const { text, latin1Line } = decode(bytes);
  if (latin1Line !== null) {
    const words = 'This line has a character that is not UTF-8; the file is read as Latin-1.';
    report.warn('info-latin-1', words, { line: latin1Line });
  }
  return withoutMark(text);
}
