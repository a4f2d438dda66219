import { counted, numberWord } from './number-words.ts';

/** Parts of a beat, one and several. */
const PARTS_OF_BEAT = [
  [2, 'half', 'halves'],
  [3, 'third', 'thirds'],
  [4, 'quarter', 'quarters'],
  [6, 'sixth', 'sixths'],
  [8, 'eighth', 'eighths'],
] as const;

/** `one beat`, `half a beat`, `two thirds of a beat`, `one and a half beats`; parts without a name by the nearest half. */
export function sayBeats(beats: number): string {
  const whole = Math.floor(beats);
  if (whole === beats) return counted(beats, 'beat', 'beats');
  const isWhole = (number: number) => Math.abs(number - Math.round(number)) < 1e-6;
  const found = PARTS_OF_BEAT.find(([into]) => isWhole((beats - whole) * into));
  if (!found) return sayNearest(beats);
  const [into, one, several] = found;
  const parts = Math.round((beats - whole) * into);
  const said = parts === 1 ? `a ${one}` : counted(parts, one, several);
  if (whole > 0) return `${numberWord(whole)} and ${said} beats`;
  return into === 2 ? 'half a beat' : `${said} of a beat`;
}

/** `about half a beat`, `about two and a half beats`; what is nearer to nothing is less than half a beat. */
function sayNearest(beats: number): string {
  const nearest = Math.round(2 * beats) / 2;
  return nearest === 0 ? 'less than half a beat' : `about ${sayBeats(nearest)}`;
}
