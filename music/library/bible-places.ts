import { failure, success, type Problem, type Result } from '../result.ts';
import type { Book } from './books.ts';

/** `Psalm 23:1–6`. */
export interface Passage {
  /** English name: `Psalms`, `1 Corinthians`. */
  readonly book: string;
  /** null: the whole book. */
  readonly chapter: number | null;
  /** First verse; null: the chapter from its beginning. */
  readonly from: number | null;
  /** The chapter it ends in, where that is a later one; else null. */
  readonly lastChapter: number | null;
  /** Last verse, of `lastChapter` if there is one; null: one verse alone, or the whole of the last chapter. */
  readonly to: number | null;
}

const problem = (code: string, message: string): Problem => ({ code, message });

function saysChapters({ name, chapters }: Book): string {
  return `${name} ${name === 'Psalms' ? 'are' : 'has'} ${chapters === 1 ? 'one chapter' : name === 'Psalms' ? `${chapters}` : `${chapters} chapters`}`;
}

/** What parts a chapter from its verse in a text, and one place from the next. */
interface Marks {
  readonly verse: ':' | '.' | ',' | null;
  readonly next: RegExp;
}

/**
 * `13:4, 7`, `13.4, 7`, or `13,4.7` as it is written in other countries. Without a colon or point, one comma parts a verse
 * from its chapter; several could be either, and are not understood.
 */
function marksOf(place: string): Marks | null {
  if (place.includes(':')) return { verse: ':', next: /[,.&]/ };
  if (/^\d+\s*\.\s*\d/.test(place)) return { verse: '.', next: /[,&]/ };
  const commas = place.split(',').length - 1;
  if (commas > 1 || (commas === 1 && !/^\d+\s*,\s*\d/.test(place))) return null;
  return commas === 1 ? { verse: ',', next: /[.&]/ } : { verse: null, next: /&/ };
}

/** `13:4-7`, `4`, `1–3`, `2:8–3:2`, with a colon for whatever mark is used. */
const ITEM =
  /^(?:(\d{1,3})\s*:\s*)?(\d{1,3})[a-c]?(?:\s*[-–—]\s*(?:(\d{1,3})\s*:\s*)?(\d{1,3})[a-c]?)?$/;

interface Numbers {
  readonly chapter: number | null;
  readonly first: number;
  readonly lastChapter: number | null;
  readonly last: number | null;
}

const numberOf = (text: string | undefined): number | null =>
  text === undefined ? null : Number(text);

function numbersIn(item: string, { verse }: Marks): Numbers | null {
  const found = ITEM.exec(verse === null ? item : item.replaceAll(verse, ':'));
  if (!found) return null;
  const [chapter = null, first = null, lastChapter = null, last = null] = found
    .slice(1, 5)
    .map(numberOf);
  return first === null ? null : { chapter, first, lastChapter, last };
}

/** Numbers without a chapter of their own are verses of the chapter that was said last, or chapters where none was. */
function placed(book: Book, numbers: Numbers, current: number | null): Passage {
  const { first, last } = numbers;
  const chapter = numbers.chapter ?? current;
  const end = numbers.lastChapter;
  if (chapter === null) {
    const later = (end ?? last) === first ? null : (end ?? last);
    const to = end === null ? null : last;
    return { book: book.name, chapter: first, from: null, lastChapter: later, to };
  }
  const lastChapter = end === chapter ? null : end;
  return { book: book.name, chapter, from: first, lastChapter, to: last };
}

/** What is wrong with a passage; null: nothing. */
function faultOf(
  book: Book,
  { chapter, from, lastChapter, to }: Passage,
  said: string,
): Problem | null {
  const missing = [chapter, lastChapter].find((each) => each !== null && (each < 1 || each > book.chapters)); // prettier-ignore
  if (missing !== undefined) {
    return problem('no-such-chapter', `${saysChapters(book)}; there is no ${missing}.`);
  }
  const { verses = Infinity } = book;
  const tooFar = [from, to].find((each) => each !== null && each > verses);
  if (tooFar !== undefined || (book.chapters === 1 && (from === 0 || to === 0))) {
    return problem(
      'no-such-verse',
      `${saysChapters(book)} of ${verses} verses; there is no ${tooFar ?? 0}.`,
    );
  }
  if (from === 0 || to === 0) return problem('no-such-verse', 'Verses are counted from 1.');
  const turned =
    lastChapter !== null ? lastChapter < (chapter ?? 0) : to !== null && to < (from ?? 0);
  return turned ? problem('wrong-order', `“${said}” ends before it begins.`) : null;
}

const unreadable = (place: string): Problem =>
  problem('unreadable-place', `“${place}” is no chapter and verse; they are written like 13:4–7.`);

/** The passages behind the name of a book: `13:4-7, 13`, `2:8–3:2`, `1–3`; none: the whole book. */
export function passagesIn(book: Book, place: string): Result<readonly Passage[]> {
  if (place === '') {
    const whole = { book: book.name, chapter: null, from: null, lastChapter: null, to: null };
    return success([whole]);
  }
  const plain = place.replaceAll(/\s*\band\b\s*/gi, '&');
  // In a book of one chapter all numbers are verses, but where a chapter is said.
  const only = book.chapters === 1 && !/^\d+\s*[:.]|^1\s*,/.test(plain);
  const marks: Marks | null = only ? { verse: null, next: /[,.&]/ } : marksOf(plain);
  if (!marks) return failure(unreadable(place));
  const passages: Passage[] = [];
  let current: number | null = only ? 1 : null;
  for (const item of splitAt(plain, marks)) {
    const numbers = numbersIn(item, marks);
    if (!numbers) return failure(unreadable(place));
    const passage = placed(book, numbers, current);
    const fault = faultOf(book, passage, `${book.name} ${place}`);
    if (fault) return failure(fault);
    passages.push(passage);
    if (passage.from !== null || passage.to !== null) {
      current = passage.lastChapter ?? passage.chapter;
    }
  }
  return success(passages);
}

const splitAt = (place: string, { next }: Marks): string[] =>
  place.split(next).map((item) => item.trim());
