/** More than these are in no archive of a library; a text of brackets takes seconds and a gigabyte to read. */
const DEEPEST = 32;
const MOST_LISTS = 2_000_000;

const [QUOTE, BACKSLASH, OPEN_LIST, CLOSE_LIST, OPEN_OBJECT, CLOSE_OBJECT] = [
  0x22, 0x5c, 0x5b, 0x5d, 0x7b, 0x7d,
];

/** Whether the lists and objects of a JSON text are no more and no deeper than anybody needs. */
function isBounded(bytes: Uint8Array): boolean {
  let [depth, lists, inText] = [0, 0, false];
  for (let at = 0; at < bytes.length; at += 1) {
    const byte = bytes[at];
    if (inText) {
      if (byte === BACKSLASH) at += 1;
      else if (byte === QUOTE) inText = false;
    } else if (byte === QUOTE) inText = true;
    else if (byte === OPEN_LIST || byte === OPEN_OBJECT) {
      depth += 1;
      lists += 1;
      if (depth > DEEPEST || lists > MOST_LISTS) return false;
    } else if (byte === CLOSE_LIST || byte === CLOSE_OBJECT) depth -= 1;
  }
  return true;
}

/** The value of a JSON text (RFC 8259); null where it is none, or one that would hold up the server. */
export function boundedJson(bytes: Uint8Array): unknown {
  if (!isBounded(bytes)) return null;
  try {
    return JSON.parse(new TextDecoder().decode(bytes)) as unknown;
  } catch {
    return null;
  }
}
