import { zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { SongFiles, type SongFormat } from '#music';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const latin1 = (text: string): Uint8Array => Uint8Array.from(text, (each) => each.charCodeAt(0));

/** UTF-16 with its byte order mark (Unicode, section 2.6). */
function utf16(text: string, order: 'little' | 'big'): Uint8Array {
  return Uint8Array.from(
    [...`\uFEFF${text}`].flatMap((each) => {
      const code = each.charCodeAt(0);
      return order === 'little' ? [code & 255, code >> 8] : [code >> 8, code & 255];
    }),
  );
}

const WORDS = 'Lamps\n\nG        C\nLamps on the water\n';
const ABC = 'X:1\nT:Lamps\nM:4/4\nL:1/4\nK:G\nG A B c|d4|]\n';

describe('a file that is no song', () => {
  it.each<[string, Uint8Array, RegExp]>([
    // ISO 32000-1, 7.5.2, with the comment of four high bytes that it recommends.
    ['PDF', latin1('%PDF-1.4\n%\xe2\xe3\xcf\xd3\n1 0 obj\n<< /Type /Catalog >>\nendobj\n'), /PDF/],
    // PNG 1.2, 5.2 (signature) and 11.2.2 (IHDR).
    ['PNG', latin1('\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x01'), /PNG/],
    // ITU-T T.81, B.1.1.3 (SOI); JFIF 1.02 (APP0).
    ['JPEG', latin1('\xff\xd8\xff\xe0\0\x10JFIF\0\x01\x02'), /JPEG/],
    // RTF 1.9, "File header".
    [
      'RTF',
      latin1('{\\rtf1\\ansi\\deff0 {\\fonttbl {\\f0 Times;}}\nG C\\par\nLamps\\par }'),
      /RTF/,
    ],
    // HTML Living Standard, 13.1.1.
    ['HTML', bytesOf('\n<!doctype html>\n<html><body><p>G C</p></body></html>'), /web page/],
    ['bytes with noughts', latin1('Lamps\n\nG\0C\nLamps on\n'), /is no text/],
  ])('is refused with a sentence of its own: %s', (_, bytes, says) => {
    for (const as of [undefined, 'words', 'abc'] as const) {
      const read = SongFiles.read(bytes, as);
      expect(read.ok).toBe(false);
      if (!read.ok) expect(read.problems[0]?.message).toMatch(says);
    }
  });

  it('is refused: a zip of a document, by itself and as words', () => {
    // APPNOTE 6.3.10, 4.3.7 (local header); the names of ECMA-376, part 2, 10.1.
    const zip = zipSync({
      '[Content_Types].xml': bytesOf('<Types/>'),
      'word/document.xml': bytesOf('<w:document><w:t>G C Lamps</w:t></w:document>'),
    });
    for (const as of [undefined, 'words', 'abc', 'musicxml'] as const) {
      expect(SongFiles.read(zip, as).ok).toBe(false);
    }
  });

  it.each([
    ['zeros.mid', new Uint8Array(200), 'midi', /^This is not a MIDI file/],
    ['Zeros.MIDI', new Uint8Array(200), 'midi', /^This is not a MIDI file/],
    ['cut.mid', latin1('Thd\0\0\0\x06\0\x01'), 'midi', /^This is not a MIDI file/],
    ['zeros.mxl', new Uint8Array(200), 'musicxml', /XML is broken .* damaged/],
    ['zeros.txt', new Uint8Array(200), 'words', /is no text/],
    ['picture.mid', latin1('\x89PNG\r\n\x1a\n\0\0\0\rIHDR'), 'words', /PNG/],
  ] as const)('is told so in the format that its name says: %s', (name, bytes, format, says) => {
    const as = SongFiles.formatOfFile(bytes, name);
    expect(as).toBe(format);
    const read = SongFiles.read(bytes, as);
    expect(read.ok ? '' : read.problems[0]?.message).toMatch(says);
  });

  it('is read as what it is, whatever its name says', () => {
    expect(SongFiles.formatOfFile(bytesOf(ABC), 'lamps.mid')).toBe('abc');
    expect(SongFiles.formatOfFile(bytesOf(WORDS), 'lamps.mid')).toBe('words');
    expect(SongFiles.formatOfFile(latin1('MThd\0\0\0\x06'), 'lamps.txt')).toBe('midi');
  });

  it('is not any text that speaks of such files', () => {
    const read = SongFiles.read(bytesOf(`The PNG song\n\n${WORDS}`));
    expect(read.ok && read.value.format).toBe('words');
  });
});

describe('marked UTF-16', () => {
  it.each<[SongFormat, string]>([
    ['words', WORDS],
    ['abc', ABC],
    ['musicxml', '<?xml version="1.0" encoding="UTF-16"?><score-partwise/>'],
  ])('is what its text says: %s', (format, text) => {
    for (const order of ['little', 'big'] as const) {
      const bytes = utf16(text, order);
      expect(SongFiles.formatOf(bytes)).toBe(format);
      if (format === 'musicxml') continue;
      const read = SongFiles.read(bytes);
      expect(read.ok && read.value.scores[0]?.facts.title).toBe('Lamps');
    }
  });
});
