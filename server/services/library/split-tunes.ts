/** One tune of a file as bytes. */
export interface TuneBytes {
  readonly bytes: Uint8Array;
  /** Lines of the file that stand before it. */
  readonly linesBefore: number;
}

const [LF, CR, X, COLON] = [10, 13, 0x58, 0x3a];
/** A book holds some hundred tunes; a file with more is read as one. */
const MOST_TUNES = 1000;

/**
 * A book of ABC tunes taken apart where each begins, at a line `X:` (ABC 2.1, section 2.2.1), so that one broken tune
 * keeps no other out and each is kept with its own source. What stands before the first belongs to it. Any other file is
 * one piece.
 */
export function tunesOf(file: Uint8Array): readonly TuneBytes[] {
  const whole = [{ bytes: file, linesBefore: 0 }];
  if (file[0] === 0 || file.subarray(0, 4096).includes(0)) return whole;
  const begins: { at: number; line: number }[] = [];
  let line = 0;
  let isStart = true;
  for (let at = 0; at < file.length; at += 1) {
    const byte = file[at];
    if (isStart && byte === X && file[at + 1] === COLON) begins.push({ at, line });
    isStart = byte === LF || (byte === CR && file[at + 1] !== LF);
    if (isStart) line += 1;
  }
  if (begins.length < 2 || begins.length > MOST_TUNES) return whole;
  return begins.map(({ at, line: linesBefore }, i) => {
    const first = i === 0;
    return {
      bytes: file.subarray(first ? 0 : at, begins[i + 1]?.at ?? file.length),
      linesBefore: first ? 0 : linesBefore,
    };
  });
}
