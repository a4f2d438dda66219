import { Keys, Pitches } from '#music';
import type { AskedSearch } from '#web/api/library.ts';

/** What the book is asked, as the address bar carries it. Every field is text, as it was typed. */
export interface Question {
  readonly q: string;
  readonly key: string;
  readonly meter: string;
  readonly hymnMeter: string;
  readonly theme: string;
  readonly book: string;
  readonly slowest: string;
  readonly fastest: string;
  readonly low: string;
  readonly high: string;
  readonly accidentals: string;
  readonly rested: string;
  readonly order: string;
}

export type Field = keyof Question;

export const NOTHING_ASKED: Question = {
  q: '',
  key: '',
  meter: '',
  hymnMeter: '',
  theme: '',
  book: '',
  slowest: '',
  fastest: '',
  low: '',
  high: '',
  accidentals: '',
  rested: '',
  order: '',
};

const FIELDS = Object.keys(NOTHING_ASKED) as Field[];

/** The question that an address asks; what it does not name is not asked. */
export function questionOf(query: URLSearchParams): Question {
  return Object.fromEntries(
    FIELDS.map((field) => [field, query.get(field) ?? '']),
  ) as unknown as Question;
}

/** The part of the address that carries a question, `?` and all; empty: nothing is asked. */
export function addressOf(question: Question, from = 0): string {
  const query = new URLSearchParams();
  for (const field of FIELDS)
    if (question[field].trim() !== '') query.set(field, question[field].trim());
  if (from > 0) query.set('from', String(from));
  const text = query.toString();
  return text === '' ? '' : `?${text}`;
}

/** One thing that is asked beside the words, which can be taken away alone. */
export interface Clause {
  readonly words: string;
  readonly fields: readonly Field[];
}

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven'];

function rangeWords({ low, high, accidentals }: Question): string {
  const most = Number(accidentals);
  const room =
    low && high ? `${Keys.sayNote(low)}–${Keys.sayNote(high)}` : Keys.sayNote(low || high);
  const sits =
    low && high
      ? `sits inside ${room}`
      : low
        ? `goes no lower than ${room}`
        : `goes no higher than ${room}`;
  if (accidentals === '') return sits;
  const many =
    most === 0
      ? 'no sharps or flats'
      : `at most ${NUMBERS[most] ?? most} ${most === 1 ? 'sharp or flat' : 'sharps or flats'}`;
  return `${sits} with ${many}`;
}

function tempoWords({ slowest, fastest }: Question): string {
  if (slowest && fastest) return `${slowest} to ${fastest} beats a minute`;
  return slowest ? `${slowest} beats a minute or faster` : `${fastest} beats a minute or slower`;
}

function keyWords(key: string): string {
  const read = Keys.readKey(key);
  return `in ${read ? Keys.sayKey(read) : key}`;
}

/** What is asked, as parts of a sentence. */
export function clausesOf(question: Question): Clause[] {
  const { key, meter, hymnMeter, theme, book, slowest, fastest, low, high, rested } = question;
  const weeks = Number(rested) === 1 ? 'week' : 'weeks';
  const all: (Clause | false)[] = [
    key !== '' && { words: keyWords(key), fields: ['key'] },
    meter !== '' && {
      words: meter === 'free' ? 'in free meter' : `in ${meter}`,
      fields: ['meter'],
    },
    hymnMeter !== '' && { words: `hymn meter ${hymnMeter}`, fields: ['hymnMeter'] },
    theme !== '' && { words: `about ${theme}`, fields: ['theme'] },
    book !== '' && { words: `from ${book}`, fields: ['book'] },
    slowest + fastest !== '' && { words: tempoWords(question), fields: ['slowest', 'fastest'] },
    low + high !== '' && { words: rangeWords(question), fields: ['low', 'high', 'accidentals'] },
    rested !== '' && { words: `rested ${rested} ${weeks}`, fields: ['rested'] },
  ];
  return all.filter((clause) => clause !== false);
}

/** The question without one of its parts. */
export function without(question: Question, { fields }: Clause): Question {
  return { ...question, ...Object.fromEntries(fields.map((field) => [field, ''])) };
}

/** Songs on one page of the index. */
export const PAGE = 50;

export type Read =
  | { readonly ok: true; readonly query: AskedSearch }
  | { readonly ok: false; readonly field: Field; readonly message: string };

const between = (least: number, most: number) => (text: string) =>
  /^\d+$/.test(text) && Number(text) >= least && Number(text) <= most;
const isNote = (text: string): boolean => Pitches.parsePitch(text) !== null;
const TEMPO = 'A tempo is a whole number of beats a minute, from 10 to 400.';
const NOTE = 'That is not a note: C4 is the one in the middle.';

/** What a field holds beside plain words, and what is said where it does not. The bounds are those of the contract. */
const HELD: Partial<Record<Field, { fits: (text: string) => boolean; message: string }>> = {
  key: {
    fits: (text) => Keys.readKey(text) !== null,
    message: 'That is not a key: write G, E minor or D dorian.',
  },
  slowest: { fits: between(10, 400), message: TEMPO },
  fastest: { fits: between(10, 400), message: TEMPO },
  low: { fits: isNote, message: NOTE },
  high: { fits: isNote, message: NOTE },
  accidentals: { fits: between(0, 7), message: 'A key has from 0 to 7 sharps or flats.' },
  rested: { fits: between(0, 1000), message: 'Weeks are a whole number, up to 1000.' },
};
const NUMERIC: readonly Field[] = ['slowest', 'fastest', 'accidentals', 'rested'];

/** The question as the server takes it, or the first field that cannot be asked. */
export function readQuestion(question: Question, from = 0): Read {
  const query: Record<string, string | number> = { from, most: PAGE };
  for (const field of FIELDS) {
    const text = question[field].trim();
    if (text === '') continue;
    const held = HELD[field];
    if (held && !held.fits(text)) return { ok: false, field, message: held.message };
    query[field] = NUMERIC.includes(field) ? Number(text) : text.slice(0, 200);
  }
  return { ok: true, query };
}
