import { FIGURES } from './names.ts';

/** A hymn meter as people write it, taken apart. */
export interface WrittenMeter {
  /** Syllables of every line, doubles written out. */
  readonly lines: readonly number[];
  /** What is sung beside the lines, in the order of the alphabet: `alleluia`, `refrain`. */
  readonly beside: readonly string[];
}

/** Meters that say only that there is no other like it, however they are written. */
const ITS_OWN = /\b(irr(eg(ular)?)?|peculiar|various|var(ies)?|free)\b|^p\s*\.?\s*m\b/;

/** What is said in whole words, as it is said in letters. */
const SPOKEN: readonly (readonly [RegExp, string])[] = [
  [/\bmetre\b/g, 'meter'],
  [/\bcommon particular meter\b/g, 'cpm'],
  [/\b(?:hallelujah|halleluiah) meter\b/g, 'hm'],
  [/\b([cls])(?:ommon|ong|hort) meter\b/g, '$1m'],
  [/\bdoubled?\s+([cls]m)\b/g, '$1 d'],
];

/** Two to four letters, perhaps with points: `C.M.`, `L M D`. */
const LETTERS = /^(?:[a-z]\.?\s?){2,4}(?![a-z])/;
/** `7s`: four lines of seven (from memory, as older books print it). */
const FOUR_OF = /^(1\d|[2-9])s(?![a-z])(?!\s*(?:,|&|and\b))/;
const RUN = /^[\d\s.,:;·/–—-]*\d/;
const DOUBLED = /^[\s.,]*\(?d(?:bl|oubled?)?\b\.?\)?/;

/**
 * Lines of figures: a line has two to nineteen syllables, so that a `1` begins a line of two figures and every other one
 * is a line, however they are parted: `8686`, `10 10`, `1110.1110`. Null: they are no lines.
 */
function linesOf(figures: string): number[] | null {
  const runs = figures.match(/\d+/g) ?? [];
  if (!runs.every((run) => /^(?:1\d|[2-9])+$/.test(run))) return null;
  return runs.flatMap((run) => (run.match(/1\d|[2-9]/g) ?? []).map(Number));
}

const twice = (lines: readonly number[]): number[] => [...lines, ...lines];
const isSame = (one: readonly unknown[], other: readonly unknown[]): boolean =>
  one.join(' ') === other.join(' ');

interface Head {
  readonly lines: readonly number[];
  readonly rest: string;
}

/** `CM`, `L.M.D.`, `DSM`; the letter for doubled may stand at either end. */
function namedHead(text: string): Head | null {
  const found = LETTERS.exec(text)?.[0];
  if (found === undefined) return null;
  const letters = found.replaceAll(/[^a-z]/g, '').toUpperCase();
  const rest = text.slice(found.length);
  const own = FIGURES.get(letters);
  if (own) return { lines: own, rest };
  const single = FIGURES.get(letters.replace(/^D|D$/, ''));
  return single ? { lines: twice(single), rest } : null;
}

function figureHead(text: string): Head | null {
  const four = FOUR_OF.exec(text);
  if (four) {
    const lines = Array<number>(4).fill(Number(four[1]));
    return { lines, rest: text.slice(four[0].length) };
  }
  const found = RUN.exec(text)?.[0];
  const lines = found === undefined ? null : linesOf(found);
  return found !== undefined && lines ? { lines, rest: text.slice(found.length) } : null;
}

/** The lines at the beginning of a text, doubled if it says so. */
function headOf(text: string): Head | null {
  const bare = text.replace(/^[\s(=:,.]+/, '');
  const head = namedHead(bare) ?? figureHead(bare);
  const doubled = head && DOUBLED.exec(head.rest);
  return doubled ? { lines: twice(head.lines), rest: head.rest.slice(doubled[0].length) } : head;
}

/** Figures beside the name say the same once more: `CM (8.6.8.6)`. */
function withoutSaidTwice({ lines, rest }: Head): string {
  const again = headOf(rest);
  return again && isSame(again.lines, lines) ? again.rest : rest;
}

const SMALL_WORDS = new Set(['with', 'w', 'and', 'a', 'the', 'an', 'plus']);

/** One spelling for what is sung beside the lines; one alleluia or more are written alike in different books. */
function plainWord(word: string): string {
  if (/^(h?all?elu[ij]ah?|all?el)s?$/.test(word)) return 'alleluia';
  return /^(refrains?|ref|chorus)$/.test(word) ? 'refrain' : word.replace(/s$/, '');
}

function besideIn(text: string): string[] {
  const words = (text.match(/[\p{L}\d]+/gu) ?? []).filter((word) => !SMALL_WORDS.has(word));
  return [...new Set(words.map(plainWord))].sort();
}

/**
 * A hymn meter in any of the ways hymnals and people write it: `8.6.8.6`, `86.86`, `8686`, `8 6 8 6 D`, `11 10.11 10`,
 * `1010 1010`, `CM`, `L.M.D.`, `Short Metre`, `10s`, with what is sung beside the lines: `LM with refrain`. The two forms
 * of HM count as one, as a line of eight is two of four. Null: it is irregular or peculiar, or no meter that is known.
 * Notation: the articles “Metre (hymn)” of the English Wikipedia and “Metre” of LilyPond's glossary.
 */
export function read(text: string): WrittenMeter | null {
  let plain = text.toLowerCase().normalize('NFD').replaceAll(/[\p{M}'’]/gu, '').trim(); // prettier-ignore
  for (const [spoken, short] of SPOKEN) plain = plain.replace(spoken, short);
  if (ITS_OWN.test(plain)) return null;
  const head = headOf(plain);
  if (!head) return null;
  const lines = isSame(head.lines, [6, 6, 6, 6, 4, 4, 4, 4]) ? FIGURES.get('HM') : head.lines;
  return { lines: lines ?? head.lines, beside: besideIn(withoutSaidTwice(head)) };
}

/** Whether words of the one can be counted out on a tune of the other. What is irregular or not known fits nothing. */
export function same(one: string | null, other: string | null): boolean {
  const [a, b] = [one, other].map((text) => (text === null ? null : read(text)));
  return !!a && !!b && isSame(a.lines, b.lines) && isSame(a.beside, b.beside);
}
