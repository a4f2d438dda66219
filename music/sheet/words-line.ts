import type { Score } from '../score/score.ts';
import type { SungPiece } from '../score/sung-lines.ts';
import { feltBeat, melodyOf, meterAt, noteAt } from '../score/time.ts';
import type { ChordOver, WordsLine, WordsPiece } from './words-sheet.ts';

/**
 * The chord that is named again where a line of words begins without one (index into the chords; null: none): only one
 * that is played over the next bar line there. Over an upbeat a new chord comes at once, and a name before it would
 * only stand in its way. A song without time stays as it was typed.
 */
function heldInto([first, ...rest]: readonly SungPiece[], score: Score): number | null {
  if (!first || first.chord !== null || score.untimed) return null;
  const { at } = first;
  const bar = score.bars.find((each) => each.at >= at);
  const next = rest.find(({ chord }) => chord !== null);
  if (next && next.at <= (bar?.at ?? Infinity)) return null;
  const sounding = score.chords.findIndex((each) => each.at < at && each.at + each.length > at);
  return score.chords[sounding]?.chord ? sounding : null;
}

/**
 * A line as it is printed: pieces from one chord to the next; a chord between two syllables stands there, over none of them.
 * @param chords as they are named, one for each of the score
 */
export function lineOf(
  line: readonly SungPiece[],
  chords: readonly ChordOver[],
  score: Score,
): WordsLine {
  const isSung = line.some(({ text }) => text !== '');
  if (!isSung && !score.untimed) return { pieces: barsOf(line, chords, score) };
  const pieces: WordsPiece[] = [];
  const held = heldInto(line, score);
  const again = held === null ? undefined : chords[held];
  const melody = melodyOf(score);
  for (const { at, text, goesOn, chord } of line) {
    const last = pieces.at(-1);
    if (chord !== null || !last || (last.text === '' && last.chord)) {
      const over = chord === null ? null : (chords[chord] ?? null);
      const isHeld = text === '' && last !== undefined && noteAt(melody, at)?.pitches.length;
      pieces.push({
        chord: last || !again ? over : { ...again, again: true },
        text,
        goesOn,
        ...(isHeld ? { held: true } : {}),
      });
      continue;
    }
    const space = last.text === '' || last.goesOn || text === '' ? '' : ' ';
    pieces[pieces.length - 1] = { ...last, text: last.text + space + text, goesOn };
  }
  return { pieces };
}

/** Chords alone, with bar lines between; in a bar of several each has its beats, where all begin on beats. */
function barsOf(
  line: readonly SungPiece[],
  chords: readonly ChordOver[],
  score: Score,
): WordsPiece[] {
  const bars: SungPiece[][] = [];
  for (const piece of line) {
    const last = bars.at(-1)?.at(-1);
    if (last?.bar === piece.bar && last.at < piece.at) bars.at(-1)?.push(piece);
    else bars.push([piece]);
  }
  return bars.flatMap((pieces, place) => {
    const bar = score.bars[pieces[0]?.bar ?? 0];
    const end = (bar?.at ?? 0) + (bar?.length ?? 0);
    const beat = feltBeat(meterAt(score, bar?.at ?? 0));
    const beats = pieces.map(({ at }, i) => ((pieces[i + 1]?.at ?? end) - at) / beat);
    const isTold = pieces.length > 1 && beats.every(Number.isInteger);
    return pieces.map(({ chord }, i): WordsPiece => {
      const over = chord === null ? null : (chords[chord] ?? null);
      const told = isTold ? beats[i] : undefined;
      return {
        chord: over,
        text: '',
        goesOn: false,
        ...(place > 0 && i === 0 && { bar: true }),
        ...(told !== undefined && { beats: told }),
      };
    });
  });
}
