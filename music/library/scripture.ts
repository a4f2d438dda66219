import { failure, success, type Problem, type Result } from '../result.ts';
import { passagesIn, type Passage } from './bible-places.ts';
import { BOOKS, type Book } from './books.ts';
import { lettersApart } from './search-words.ts';

export type { Passage } from './bible-places.ts';

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

const SPLIT = /^\s*((?:[1-4]|[1-4](?:st|nd|rd|th))?\s*[\p{L}][\p{L}\s.’']*?)\s*(\d.*)?$/u;
/** A place of the book that was named before: `24`, `4:1–5`. */
const PLACE_ALONE = /^\d(?:[\d\s:.,&–—-]|and\b|(?<=\d)[a-c]\b)*$/;

/**
 * References as people and hymnals write them: `Ps 23`, `1 Cor 13:4-7`, `II Kings 2`, `John 3:16, 18`, `Psalm 23; 24`,
 * `Luke 2:8–3:2`, `Jude 24–25` (a number alone behind the name of a book of one chapter is a verse). Each passage comes
 * by itself, in the order they stand; there is at least one. What cannot be understood whole is a problem, and nothing of
 * it is left out. A book or chapter that does not exist is a problem that says what there is. Verses are counted only in
 * books of one chapter; elsewhere only their order is looked at.
 */
export function read(text: string): Result<readonly Passage[]> {
  const passages: Passage[] = [];
  let book: Book | null = null;
  const pieces = text.split(';').map((piece) => piece.trim());
  for (const piece of pieces.filter((each, i) => each !== '' || i === 0)) {
    const alone: boolean = book !== null && PLACE_ALONE.test(piece);
    const parts: RegExpExecArray | null = alone ? null : SPLIT.exec(piece);
    const name: string = parts?.[1] ?? piece;
    const named: Book | null = alone ? book : bookOf(name);
    if (!named) return failure(noSuchBook(name));
    const place = alone ? piece : (parts?.[2] ?? '');
    const found = passagesIn(named, place.trim().replace(/\.$/, ''));
    if (!found.ok) return found;
    passages.push(...found.value);
    book = named;
  }
  return success(passages);
}
