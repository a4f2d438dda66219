import { creditLine, peopleIn, type Author, type Layer } from '../score/credits.ts';
import type { SongFacts } from '../score/score.ts';
import { NO_DETAILS, type Rights, type SongDetails } from './details.ts';
import { read as readPassage } from './scripture.ts';
import { eachOnce } from './search-words.ts';

/** How facts of a file are called that say what a team knows of a song. They stand in its words and are read without them. */
const LAYERS: readonly Layer[] = ['words', 'translation', 'tune', 'arrangement'];
const STATUSES: readonly Rights['status'][] = [
  'public domain',
  'protected',
  'our own',
  'not known',
];
/** A credit line of the source, whole, where the people are said anew. */
const SOURCE_CREDIT = 'credit line';
const RIGHTS_PARTS = { holder: 200, licence: 80, reason: 500, where: 200 } as const;
/** Longer texts are parted, so that a line of a text file can hold them. */
const LONGEST_LINE = 400;

type Noted = readonly [name: string, text: string];
/** ABC has no field for these; its notes (`N:`, ABC 2.1, section 3.1.9) say what they are. */
export type NotedIn = 'musicxml' | 'abc' | 'words';

/** Words of a text in as many lines as it needs. */
function parted(name: string, text: string): Noted[] {
  const lines = [''];
  for (const word of text.split(' ')) {
    const last = lines.at(-1) ?? '';
    if (last !== '' && last.length + 1 + word.length > LONGEST_LINE) lines.push(word);
    else lines[lines.length - 1] = last === '' ? word : `${last} ${word}`;
  }
  return lines.filter((line) => line !== '').map((line) => [name, line]);
}

/** Entries of a list in as many lines as they need; none is cut. */
function listed(name: string, entries: readonly string[], mark: string): Noted[] {
  const lines: string[] = [];
  for (const entry of entries) {
    const last = lines.at(-1);
    if (last === undefined || last.length + mark.length + entry.length > LONGEST_LINE)
      lines.push(entry); // prettier-ignore
    else lines[lines.length - 1] = last + mark + entry;
  }
  return lines.map((line) => [name, line]);
}

function rightsOf({ layer, status, ...parts }: Rights): Noted[] {
  const name = `${layer} rights`;
  return [
    [name, status],
    ...(Object.keys(RIGHTS_PARTS) as (keyof typeof RIGHTS_PARTS)[]).flatMap((part) =>
      parted(`${name} ${part}`, parts[part]),
    ),
  ];
}

const samePeople = (a: readonly Author[], b: readonly Author[]): boolean =>
  JSON.stringify(a.map(fieldsOf)) === JSON.stringify(b.map(fieldsOf));
const fieldsOf = ({ layer, name, born, died, year }: Author) => [layer, name, born, died, year];

/**
 * What a file of a song says of it: its own facts, and what the team knows beside. `taken` takes that off again. People
 * stand in the credit lines, as `creditLine` writes them; the source's own lines are then kept beside.
 */
export function noted(facts: SongFacts, details: SongDetails, as: NotedIn): SongFacts {
  const { people } = details;
  const isSaid = people.length === 0 || samePeople(peopleIn(facts.credits), people);
  const own: Noted[] = [
    ...(details.firstLine === null ? [] : parted('first line', details.firstLine)),
    ...(details.hymnMeter === null ? [] : parted('hymn meter', details.hymnMeter)),
    ...listed('scripture', details.scripture, '; '),
    ...listed('themes', details.themes, ', '),
    ...(details.language === null ? [] : parted('language', details.language)),
    ...details.rights.flatMap(rightsOf),
    ...(isSaid ? [] : facts.credits.map((line): Noted => [SOURCE_CREDIT, line])),
  ];
  const shown = as === 'abc' ? own.map(([name, text]): Noted => ['N', `${capital(name)}: ${text}`]) : own; // prettier-ignore
  const other = [...facts.other, ...shown];
  const all = { ...facts, credits: isSaid ? facts.credits : people.map(creditLine), other };
  if (people.length === 0) return all;
  // Years that the source says of people who are said anew without them would come back.
  return samePeople(taken(all).details.people, people)
    ? all
    : { ...all, other: other.filter(([name]) => !(name in LIVES)) };
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** `N: Scripture: Psalm 23` is a note that says what it is. */
function nameAndText([name, text]: Noted): Noted {
  const match = name === 'N' ? /^(\p{L}[\p{L} ]{2,30}): (.+)$/su.exec(text) : null;
  return match ? [(match[1] ?? '').toLowerCase(), match[2] ?? ''] : [name.toLowerCase(), text];
}

/** Names of facts that say one thing of a song, as files have them. */
const ALSO: Readonly<Record<string, string>> = {
  scriptures: 'scripture',
  theme: 'themes',
  topics: 'themes',
  'meter of the words': 'hymn meter',
};

/** The facts of a file by name, so that each is taken at most once. */
class Given {
  readonly #all: readonly Noted[];
  readonly #used = new Set<number>();

  constructor(all: readonly Noted[]) {
    this.#all = all.map((each) => {
      const [name, text] = nameAndText(each);
      return [ALSO[name] ?? name, text];
    });
  }

  /** What stands under a name, if `read` makes something of it. */
  take<T>(name: string, mark: string, read: (text: string) => T | null): T | null {
    const found = this.#all.flatMap(([each], i) => (each === name ? [i] : []));
    if (found.length === 0) return null;
    const value = read(found.map((i) => this.#all[i]?.[1].trim() ?? '').join(mark));
    if (value !== null) for (const i of found) this.#used.add(i);
    return value;
  }

  rest(all: readonly Noted[]): Noted[] {
    return all.filter((_, i) => !this.#used.has(i));
  }
}

/**
 * `Psalm 23; John 10:11–16` as a list; a comma belongs to the verses of one place, and what has no letters to the book
 * before it: `Psalm 23; 24`.
 */
export function placesIn(text: string): string[] {
  const places: string[] = [];
  for (const piece of text.split(/[;\n]/).map((each) => each.trim())) {
    const last = places.at(-1);
    if (last !== undefined && /^\d[^\p{L}]*[a-c]?$/u.test(piece)) {
      places[places.length - 1] = `${last}; ${piece}`;
    } else if (piece !== '') places.push(piece);
  }
  return places;
}

/** `evening, trust` as a list, each once, however it is written again: `Trust`. */
export function themesIn(text: string): string[] {
  const all = text.split(/[,;\n]/).map((each) => each.trim().replaceAll(/\s+/g, ' '));
  return eachOnce(all.filter((each) => each !== '').map((each) => each.slice(0, 60)));
}

const upTo = (longest: number) => (text: string) => (text !== '' && text.length <= longest ? text : null); // prettier-ignore
const listUpTo = (list: readonly string[]): readonly string[] | null =>
  list.length > 0 && list.length <= 30 && list.every(({ length }) => length <= 60) ? list : null;
/** Its form only (BCP 47). */
const tag = (text: string): string | null =>
  /^[a-z]{2,3}(-[a-z\d]{2,8})*$/i.test(text) && text.length <= 20 ? text : null;

function rightsIn(given: Given, layer: Layer): Rights[] {
  const name = `${layer} rights`;
  const status = given.take(name, ' ', (text) => STATUSES.find((each) => each === text) ?? null);
  if (status === null) return [];
  const part = (each: keyof typeof RIGHTS_PARTS): string =>
    given.take(`${name} ${each}`, ' ', upTo(RIGHTS_PARTS[each])) ?? '';
  const [holder, licence, reason, where] = [part('holder'), part('licence'), part('reason'), part('where')]; // prettier-ignore
  // Nothing is in the public domain without a reason; a file that says so does not know.
  const known = status === 'public domain' && reason === '' ? 'not known' : status;
  return [{ layer, status: known, holder, licence, reason, where }];
}

/** Fields of the Open Hymnal Project that say when people lived: `OHAUTHOR Newton, John (1725-1807)`. */
const LIVES: Readonly<Record<string, Layer>> = {
  OHAUTHOR: 'words',
  OHTRANSLATOR: 'translation',
  OHCOMPOSER: 'tune',
  OHARRANGER: 'arrangement',
};
const LIFE = /^(\p{Lu}[\p{L}'’-]+), \p{Lu}[^(]*\((\d{4})-(\d{4})?\)$/u;

/** The years of a person of that name of family in that layer, where the source says any. */
function withLife(person: Author, other: readonly Noted[]): Author {
  if (person.born !== null || person.died !== null) return person;
  const lives = other
    .filter(([name]) => LIVES[name] === person.layer)
    .flatMap(([, text]) => text.split(';').map((each) => LIFE.exec(each.trim())));
  const life = lives.find((each) => each?.[1] === person.name.split(' ').at(-1));
  if (!life) return person;
  const [, , born, died] = life;
  return { ...person, born: Number(born), died: died === undefined ? null : Number(died) };
}

/** What of a file's facts the team knows as details, and what is left as the song's own facts. What is odd stays a fact. */
export function taken(facts: SongFacts): { facts: SongFacts; details: SongDetails } {
  const given = new Given(facts.other);
  const isPlace = (text: string): boolean => readPassage(text).ok;
  const details: SongDetails = {
    ...NO_DETAILS,
    firstLine: given.take('first line', ' ', upTo(500)),
    hymnMeter: given.take('hymn meter', ' ', upTo(80)),
    people: peopleIn(facts.credits).map((person) => withLife(person, facts.other)),
    themes: given.take('themes', ', ', (text) => listUpTo(themesIn(text))) ?? [],
    scripture:
      given.take('scripture', '; ', (text) => {
        const places = placesIn(text);
        return places.every(isPlace) ? listUpTo(places) : null;
      }) ?? [],
    language: given.take('language', ' ', tag),
    rights: LAYERS.flatMap((layer) => rightsIn(given, layer)),
  };
  const lines: string[] = [];
  given.take(SOURCE_CREDIT, '\n', () => {
    for (const each of facts.other) {
      const [name, text] = nameAndText(each);
      if (name === SOURCE_CREDIT) lines.push(text);
    }
    return true;
  });
  const credits = lines.length > 0 ? lines : facts.credits;
  return { facts: { ...facts, credits, other: given.rest(facts.other) }, details };
}
