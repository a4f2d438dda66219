/** Text from bytes, and the line of the first byte that is not UTF-8 (then everything was read as Latin-1). */
export interface Decoded {
  readonly text: string;
  readonly latin1Line: number | null;
}

/** ABC 2.1 is UTF-8; older files are Latin-1, which gives every byte a character. A byte order mark is dropped. */
export function decode(bytes: Uint8Array): Decoded {
  const utf16 = decodeUtf16(bytes);
  if (utf16 !== null) return { text: utf16, latin1Line: null };
  const { text, failedAt } = decodeUtf8(bytes);
  if (failedAt === null) return { text: withoutMark(text), latin1Line: null };
  let line = 1;
  for (let i = 0; i < failedAt; i += 1) if (bytes[i] === 10) line += 1;
  return { text: fromCodes(bytes), latin1Line: line };
}

export function withoutMark(text: string): string {
  return text.startsWith('\uFEFF') ? text.slice(1) : text;
}

function decodeUtf16(bytes: Uint8Array): string | null {
  const little = bytes[0] === 0xff && bytes[1] === 0xfe;
  const big = bytes[0] === 0xfe && bytes[1] === 0xff;
  if (!little && !big) return null;
  const codes = new Uint16Array(Math.floor(bytes.length / 2) - 1);
  for (let i = 0; i < codes.length; i += 1) {
    const first = bytes[2 * i + 2] ?? 0;
    const second = bytes[2 * i + 3] ?? 0;
    codes[i] = little ? first + 256 * second : 256 * first + second;
  }
  return fromCodes(codes);
}

function decodeUtf8(bytes: Uint8Array): { text: string; failedAt: number | null } {
  const codes = new Uint16Array(bytes.length);
  let length = 0;
  for (let i = 0; i < bytes.length;) {
    const lead = bytes[i] ?? 0;
    if (lead < 0x80) {
      codes[length++] = lead;
      i += 1;
      continue;
    }
    const more = lead >= 0xf0 ? 3 : lead >= 0xe0 ? 2 : 1;
    if (lead < 0xc2 || lead > 0xf4 || i + more >= bytes.length) {
      return { text: '', failedAt: i };
    }
    let code = lead & (0x3f >> more);
    for (let k = 1; k <= more; k += 1) {
      const next = bytes[i + k] ?? 0;
      if (next >> 6 !== 2) return { text: '', failedAt: i };
      code = (code << 6) | (next & 0x3f);
    }
    const tooShort = (more === 2 && code < 0x800) || (more === 3 && code < 0x10000);
    if (tooShort || (code >= 0xd800 && code <= 0xdfff) || code > 0x10ffff) {
      return { text: '', failedAt: i };
    }
    if (code > 0xffff) {
      codes[length++] = 0xd800 + ((code - 0x10000) >> 10);
      codes[length++] = 0xdc00 + ((code - 0x10000) & 0x3ff);
    } else {
      codes[length++] = code;
    }
    i += more + 1;
  }
  return { text: fromCodes(codes.subarray(0, length)), failedAt: null };
}

/** Text from character codes; of bytes it is Latin-1. */
export function fromCodes(codes: Uint8Array | Uint16Array): string {
  let text = '';
  for (let i = 0; i < codes.length; i += 8192) {
    text += String.fromCharCode(...codes.subarray(i, i + 8192));
  }
  return text;
}
