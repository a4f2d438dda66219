import { failure, success, type Problem, type Result } from '../result.ts';
import { BOOKS, type Book } from './books.ts';

/** `Psalm 23:1–6`. */
export interface Passage {
  /** English name: `Psalms`, `1 Corinthians`. */
  readonly book: string;
  /** null: the whole book. */
  readonly chapter: number | null;
  /** First verse; null: the whole chapter. */
  readonly from: number | null;
  /** Last verse; null: one verse alone, or a passage that goes on into later chapters. */
  readonly to: number | null;
}

const ROMAN: Readonly<Record<string, string>> = { i: '1', ii: '2', iii: '3', iv: '4' };
const ORDINAL: Readonly<Record<string, string>> = {
  first: '1',
  second: '2',
  third: '3',
  fourth: '4',
  '1st': '1',
  '2nd': '2',
  '3rd': '3',
  '4th': '4',
};

/** Lower case, without accents, points and spaces; a number before it in figures: `II Cor.` → `2cor`. */
function plain(text: string): string {
  const words = text
    .normalize('NFD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .split(/[\s.]+/)
    .filter((word) => word !== '');
  const [first = '', ...rest] = words;
  const number = rest.length > 0 ? (ROMAN[first] ?? ORDINAL[first]) : undefined;
  return number === undefined ? words.join('') : number + rest.join('');
}

const names = new Map<string, Book>();
for (const each of BOOKS) {
  names.set(plain(each.name), each);
  for (const short of each.short) names.set(short, each);
}

/** The book of a name that is written whole, in a usual short form, or cut so that only one book begins so. */
function bookOf(name: string): Book | null {
  const asked = plain(name);
  const named = names.get(asked);
  if (named || asked.replace(/^\d/, '').length < 2) return named ?? null;
  const begun = BOOKS.filter((each) => plain(each.name).startsWith(asked));
  return begun.length === 1 ? (begun[0] ?? null) : null;
}

/** Single letters that change, are left out or put in (Levenshtein); ends early where the words differ much in length. */
function lettersApart(one: string, other: string): number {
  let row = Array.from({ length: other.length + 1 }, (_, i) => i);
  for (let i = 1; i <= one.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= other.length; j += 1) {
      const change = (row[j - 1] ?? 0) + (one[i - 1] === other[j - 1] ? 0 : 1);
      next.push(Math.min(change, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[other.length] ?? 0;
}

function nearest(name: string): Book | null {
  const asked = plain(name);
  const [best] = BOOKS.map((each) => ({ each, apart: lettersApart(asked, plain(each.name)) })).sort(
    (a, b) => a.apart - b.apart,
  );
  return best && best.apart <= 2 ? best.each : null;
}

const problem = (code: string, message: string): Problem => ({ code, message });

function noSuchBook(name: string): Problem {
  const near = nearest(name);
  const hint = near
    ? ` Perhaps ${near.name} is meant.`
    : ' One is written like Psalm 23 or 1 Cor 13:4–7.';
  return problem(
    'no-such-book',
    `“${name.trim()}” is no book of the Bible that is known here.${hint}`,
  );
}

function saysChapters({ name, chapters }: Book): string {
  return `${name} ${name === 'Psalms' ? 'are' : 'has'} ${chapters === 1 ? 'one chapter' : name === 'Psalms' ? `${chapters}` : `${chapters} chapters`}`;
}

/** Chapter and verse behind the name: `13:4-7`, `13.4`, `13,4`, `13`, `1–3`. */
const PLACE =
  /^(?:(\d{1,3})(?:\s*[:.,]\s*(\d{1,3})[a-c]?)?(?:\s*[-–—]\s*(?:(\d{1,3})\s*[:.,]\s*)?(\d{1,3})[a-c]?)?)?$/;
const SPLIT = /^\s*((?:[1-4]|[1-4](?:st|nd|rd|th))?\s*[\p{L}][\p{L}\s.’']*?)\s*(\d.*)?$/u;

/**
 * A reference as people write it: `Ps 23`, `1 Cor 13:4-7`, `II Kings 2`, `Jude 24–25` (a number alone behind the name of
 * a book of one chapter is a verse). A book or chapter that does not exist is a problem that says what there is. Verses
 * are counted only in books of one chapter; elsewhere only their order is looked at.
 */
export function read(text: string): Result<Passage> {
  const parts = SPLIT.exec(text.trim());
  const name = parts?.[1] ?? text;
  const found = bookOf(name);
  if (!found) return failure(noSuchBook(name));
  const place = PLACE.exec((parts?.[2] ?? '').trim());
  if (!place) {
    const message = `“${(parts?.[2] ?? '').trim()}” is no chapter and verse; they are written like 13:4–7.`;
    return failure(problem('unreadable-place', message));
  }
  const [first, verse, lastChapter, last] = place.slice(1, 5).map(numberOf);
  if (first === undefined || first === null) return success(whole(found.name));
  if (found.chapters === 1 && verse === null && lastChapter === null) {
    return ofOneChapter(found, first, last ?? null);
  }
  const chapters = [first, lastChapter ?? null, verse === null ? (last ?? null) : null];
  const missing = chapters.find((each) => each !== null && (each < 1 || each > found.chapters));
  if (missing !== undefined) {
    return failure(problem('no-such-chapter', `${saysChapters(found)}; there is no ${missing}.`));
  }
  const [from, to] = [verse ?? null, last ?? null];
  const turned = lastChapter === null && to !== null && to < (from ?? first);
  if (turned || (lastChapter ?? first) < first) {
    return failure(problem('wrong-order', `“${text.trim()}” ends before it begins.`));
  }
  if (from === 0 || to === 0) {
    return failure(problem('no-such-verse', 'Verses are counted from 1.'));
  }
  const ends = from === null || lastChapter !== null ? null : to;
  return success({ book: found.name, chapter: first, from, to: ends });
}

/** `Jude 24–25`. */
function ofOneChapter(book: Book, from: number, to: number | null): Result<Passage> {
  const { name, verses = Infinity } = book;
  if (from < 1 || (to ?? from) > verses || from > verses) {
    const message = `${saysChapters(book)} of ${verses} verses; there is no ${from < 1 || from > verses ? from : to}.`;
    return failure(problem('no-such-verse', message));
  }
  if (to !== null && to < from) {
    return failure(problem('wrong-order', `${name} ${from}–${to} ends before it begins.`));
  }
  return success({ book: name, chapter: 1, from, to });
}

const numberOf = (text: string | undefined): number | null =>
  text === undefined ? null : Number(text);
const whole = (book: string): Passage => ({ book, chapter: null, from: null, to: null });
