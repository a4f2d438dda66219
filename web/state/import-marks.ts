import {
  ChordSymbol,
  WordsAndChords,
  type ReadLine,
  type ReadWord,
  type TextMark,
  type TextReading,
} from '#music';

/** What each reading is called on the page. */
export const CALLED: Readonly<Record<ReadLine['as'] | ReadWord['as'], string>> = {
  heading: 'heading',
  chords: 'chords',
  words: 'words',
  nothing: 'left out',
  blank: '',
  sign: 'sign',
};

const LINE_ORDER: Readonly<Record<TextReading, readonly TextReading[]>> = {
  chords: ['chords', 'words', 'heading', 'nothing'],
  words: ['words', 'chords', 'heading', 'nothing'],
  heading: ['heading', 'words', 'chords', 'nothing'],
  nothing: ['nothing', 'words', 'chords', 'heading'],
};

function after(order: readonly TextReading[], now: TextReading): TextReading {
  return order[(order.indexOf(now) + 1) % order.length] ?? now;
}

const isAt = (mark: TextMark, line: number, column: number | undefined): boolean =>
  mark.line === line && mark.column === column;

/** The marks with one more; a mark that says what the rules say anyway is none. */
function put(
  marks: readonly TextMark[],
  { line, column, as }: TextMark,
  usual: TextReading,
): TextMark[] {
  // Another kind of line has other words: what was said of each is gone with it.
  const others = marks.filter((mark) =>
    column === undefined ? mark.line !== line : !isAt(mark, line, column),
  );
  if (as === usual) return others;
  return [...others, column === undefined ? { line, as } : { line, column, as }];
}

/** What a tap on a line makes of it: the other thing it most likely is, then the rest, then what it was. */
export function tapLine(
  text: string,
  marks: readonly TextMark[],
  line: number,
): { marks: TextMark[]; as: TextReading } | null {
  const now = WordsAndChords.lines(text, { marks })[line - 1]?.as;
  const usual = WordsAndChords.lines(text, { marks: marks.filter((mark) => mark.line !== line) })[
    line - 1
  ]?.as;
  if (!now || !usual || now === 'blank' || usual === 'blank') return null;
  const as = after(LINE_ORDER[usual], now);
  return { marks: put(marks, { line, as }, usual), as };
}

/** What a tap on a word makes of it: chord, sung word, left out; a chord only where it can be read as one. */
export function tapWord(
  text: string,
  marks: readonly TextMark[],
  line: number,
  column: number,
): { marks: TextMark[]; as: TextReading } | null {
  const find = (some: readonly TextMark[]): ReadWord | undefined =>
    WordsAndChords.lines(text, { marks: some })[line - 1]?.words.find(
      (word) => word.column === column,
    );
  const now = find(marks);
  const usual = find(marks.filter((mark) => !isAt(mark, line, column)));
  if (!now || !usual || now.as === 'heading' || now.as === 'sign' || usual.as === 'sign') {
    return null;
  }
  const isChord = ChordSymbol.read(now.text.replace(/^\((.*)\)$/, '$1')).ok;
  const all: TextReading[] = isChord ? ['chords', 'words', 'nothing'] : ['words', 'nothing'];
  const own = usual.as as TextReading;
  const order = [own, ...all.filter((each) => each !== own)];
  const as = after(order, now.as);
  return { marks: put(marks, { line, column, as }, own), as };
}

/** The marks after the text was changed: those above the change stay, those below move with their lines. */
export function carryMarks(
  marks: readonly TextMark[],
  before: string,
  text: string,
): readonly TextMark[] {
  if (marks.length === 0) return marks;
  const [old, now] = [before.split(/\r\n|\n|\r/), text.split(/\r\n|\n|\r/)];
  const most = Math.min(old.length, now.length);
  let head = 0;
  while (head < most && old[head] === now[head]) head += 1;
  let tail = 0;
  while (tail < most - head && old.at(-1 - tail) === now.at(-1 - tail)) tail += 1;
  const moved = now.length - old.length;
  return marks.flatMap((mark) => {
    if (mark.line <= head) return [mark];
    return mark.line > old.length - tail ? [{ ...mark, line: mark.line + moved }] : [];
  });
}
