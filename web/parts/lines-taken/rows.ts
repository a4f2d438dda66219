import type { ReadLine, ReadWord } from '#music';

/** A word or a chord in its place: which of the lines of its row it is of, and the column of its piece it stands at, from 0. */
export interface PlacedWord {
  readonly word: ReadWord;
  readonly row: number;
  readonly at: number;
}

/** So much of a row as may not be torn apart. */
export interface Piece {
  /** Columns, with those up to the next piece. */
  readonly length: number;
  readonly words: readonly PlacedWord[];
}

/** A line, or chords and the words they stand over, which are broken in the same places. */
export interface TakenRow {
  readonly lines: readonly ReadLine[];
  readonly pieces: readonly Piece[];
}

const endOf = ({ seen, text }: ReadWord): number => seen + [...text].length;

/** Columns where a piece may begin: where a word does, and no word of the other line goes on over it. */
function breaksOf(words: readonly ReadWord[]): number[] {
  const starts = [...new Set(words.map(({ seen }) => seen))].sort((a, b) => a - b);
  return starts.filter((at) => !words.some((word) => word.seen < at && at < endOf(word)));
}

function piecesOf(lines: readonly ReadLine[]): Piece[] {
  const words = lines.flatMap((line) => line.words);
  const [first = 0, ...later] = breaksOf(words);
  // What stands in from the edge stays there.
  const begins = words.length === 0 ? [] : [Math.min(first, 0), ...later];
  return begins.map((from, i) => {
    const to = begins[i + 1] ?? Math.max(...words.map(endOf));
    const placed = lines.flatMap((line, row) =>
      line.words
        .filter(({ seen }) => from <= seen && seen < to)
        .map((word): PlacedWord => ({ word, row, at: word.seen - from })),
    );
    return { length: to - from, words: placed };
  });
}

/** The lines as they are shown: chords with the words right below them, every other line alone. Blank lines are left out. */
export function rowsOf(lines: readonly ReadLine[]): TakenRow[] {
  const rows: TakenRow[] = [];
  for (let i = 0; i < lines.length; i += 1) {
    const [line, next] = [lines[i], lines[i + 1]];
    if (!line || line.as === 'blank') continue;
    const isPair = line.as === 'chords' && next?.as === 'words';
    const together = isPair && next ? [line, next] : [line];
    rows.push({ lines: together, pieces: piecesOf(together) });
    i += together.length - 1;
  }
  return rows;
}
