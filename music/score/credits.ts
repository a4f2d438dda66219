/** The layers of a song, each with makers and rights of its own (a hymn has layers: words, translation, tune, setting). */
export type Layer = 'words' | 'translation' | 'tune' | 'arrangement';

export interface Author {
  readonly layer: Layer;
  readonly name: string;
  /** Years; null: not known. */
  readonly born: number | null;
  readonly died: number | null;
  /** When it was made or first printed. */
  readonly year: number | null;
}

/** What a credit line of ours begins with. */
export const CREDITED: Readonly<Record<Layer, string>> = {
  words: 'Words',
  translation: 'Translation',
  tune: 'Music',
  arrangement: 'Arrangement',
};

/** How credit lines say which layer they are of (common practice, in English and German). */
const SAID: readonly (readonly [Layer, string])[] = [
  ['words', '[Ww]ords|[Tt]ext|[Ll]yrics|[Pp]oem|[Ww]orte|[Ll]yricist|[Aa]uthor'],
  ['tune', '[Mm]usic|[Tt]une|[Mm]elody|[Mm]elodie|[Mm]usik|[Cc]omposer'],
  ['arrangement', '[Ss]etting|[Aa]rrangement|[Hh]armony|[Ss]atz|[Aa]rranger|[Aa]rranged|[Hh]armoni[sz]ed'], // prettier-ignore
  ['translation', '[Tt]ranslation|[Tt]ranslated|[Tt]ranslator'],
];
const ANY = SAID.map(([, words]) => words).join('|');
const LABEL = new RegExp(
  `(?<![\\p{L}])(?:((?:${ANY})(?:(?: and | & | und |, )(?:${ANY}))?)(?: by)?\\s*:|((?:${ANY})(?:(?: and | & )(?:${ANY}))?) by(?= \\p{Lu}))\\s*`,
  'gu',
);

function layersOf(label: string): Layer[] {
  return label.split(/ and | & | und |, /).flatMap((word) => {
    const found = SAID.find(([, words]) => new RegExp(`^(?:${words})$`).test(word));
    return found ? [found[0]] : [];
  });
}

const WORD = String.raw`(?:\p{Lu}\.(?:\p{Lu}\.)*|(?:St|Dr|Jr|Sr|Rev|Mrs|Mr)\.|\p{Lu}[\p{L}'’-]+)`;
const BETWEEN = 'van|von|de|der|den|di|da|du|del|la|le|zu|of|ap';
const NAME = `${WORD}(?: (?:(?:${BETWEEN}) )*${WORD}){0,5}`;
const LIFE = String.raw`(?: \((?:(\d{3,4})\s?[–-]\s?(\d{3,4})?|(?:born|b\.) (\d{3,4})|(?:died|d\.) (\d{3,4}))\)|,? (\d{3,4})\s?[–-]\s?(\d{3,4}))?`;
const YEAR = String.raw`(?:,? (?:(\d{4})|(?:c\.|ca\.|circa|about|before|after|um) ?\d{3,4}))?`;
const PERSON = new RegExp(
  `^(${NAME})${LIFE}${YEAR}(?=$|[.;]|, (?:alt|adapt|abr)\\b| (?:and|&|und) |,? and )`,
  'u',
);

/** What stands where a person would and is none: a book, a people, nobody known. */
const NOBODY =
  /^(?:hymnals?|hymnary|hymnbook|hymns|psalter|psalmody|psalms|tunebook|book|collection|liturgy|missal|breviary|service|church|cantiones|gesangbuch|kirchengesang|harmony|harp|manuscript|carols?|melody|folk|folksong|song|songs|spirituals?|chant|plainsong|plainchant|processional|mode|traditional|trad|anonymous|anon|unknown|various|composite|source|century|attr|attributed|stanzas?|verses?|english|irish|scottish|welsh|french|german|american|dutch|swedish|latin|greek|hebrew|african|ancient|medieval|early|public|domain|copyright|project|society|press|music|tune|words)\.?$/i;

const isPerson = (name: string, hasLife: boolean): boolean => {
  const words = name.split(' ');
  return (words.length > 1 || hasLife) && !words.some((word) => NOBODY.test(word));
};

/** As many as a song has makers, and as long as a name is kept. */
const [MOST_PEOPLE, LONGEST_NAME] = [20, 120];

const yearIn = (...found: (string | undefined)[]): number | null => {
  const text = found.find((each) => each !== undefined);
  return text === undefined ? null : Number(text);
};

type Person = Omit<Author, 'layer'>;

/** Everybody that a text names and nothing else; null: it is not plain that it does. */
function personsIn(text: string): Person[] | null {
  const persons: Person[] = [];
  for (let rest = text; persons.length < MOST_PEOPLE;) {
    const match = PERSON.exec(rest);
    if (!match) return null;
    const [whole, name = '', from, to, b, d, bornBare, diedBare, year] = match;
    const [born, died] = [yearIn(from, b, bornBare), yearIn(to, d, diedBare)];
    if (!isPerson(name, (born ?? died) !== null)) return null;
    persons.push({ name, born, died, year: yearIn(year) });
    rest = rest.slice(whole.length);
    const joint = /^(?:,? (?:and|&|und) |; )(?=\p{Lu})/u.exec(rest);
    if (!joint) break;
    rest = rest.slice(joint[0].length);
  }
  // “A and B, 1831”: both made it then.
  const last = persons.at(-1)?.year ?? null;
  const shared = persons.slice(0, -1).every(({ year }) => year === null);
  return shared ? persons.map((each) => ({ ...each, year: last })) : persons;
}

/** `'New Britain' or 'Amazing Grace' James P. Carrell`: names of tunes before the person. */
const TUNE_NAMES = /^(?:['‘"“][^'’"”]{1,60}['’"”](?: or |,? )?)+/u;
const TOLD_AGAIN = /^(?:arr|harm|tr|trans)\. /;

/** Exactly as `creditLine` writes whoever has a name that is no usual one. */
const EXACT =
  /^(Words|Translation|Music|Arrangement) by: (.+?)(?: \((?:(\d{1,4})–(\d{1,4})|born (\d{1,4})|died (\d{1,4}))\))?(?:, (\d{1,4}))?$/u;

function exactlyIn(line: string): Author[] | null {
  const match = EXACT.exec(line);
  if (!match) return null;
  const [, label, name = '', from, to, b, d, year] = match;
  const layer = layersOf(label ?? '')[0];
  if (!layer) return null;
  return [{ layer, name, born: yearIn(from, b), died: yearIn(to, d), year: yearIn(year) }];
}

function inLine(line: string): Author[] {
  const text = line.replace(/\s+/g, ' ').trim();
  const exact = exactlyIn(text);
  if (exact) return exact;
  const labels = [...text.matchAll(LABEL)];
  return labels.flatMap((match, i) => {
    const layers = layersOf(match[1] ?? match[2] ?? '');
    const body = text.slice(match.index + match[0].length, labels[i + 1]?.index).trim();
    const named = layers.includes('tune') ? body.replace(TUNE_NAMES, '') : body;
    const persons = personsIn(named.replace(TOLD_AGAIN, '')) ?? [];
    return persons.flatMap((person) => layers.map((layer): Author => ({ layer, ...person })));
  });
}

/**
 * Who made what, where credit lines say it plainly: `Words: John Newton (1725–1807), 1779`, `Music: 'St. Louis' Lewis H.
 * Redner, 1868`. A year that is not certain (“circa”) is none; of whatever is not plainly a person there is nobody. Each
 * person of a layer once.
 */
export function peopleIn(credits: readonly string[]): Author[] {
  const people: Author[] = [];
  for (const line of credits) {
    for (const each of inLine(line)) {
      const known = people.some(({ layer, name }) => layer === each.layer && name === each.name);
      if (!known && each.name.length <= LONGEST_NAME) people.push(each);
      if (people.length === MOST_PEOPLE) return people;
    }
  }
  return people;
}

/** `John Newton (1725–1807), 1779`: name, years of the life, year of the work. */
export function nameWithYears({ name, born, died, year }: Author): string {
  const life =
    born !== null && died !== null
      ? ` (${born}–${died})`
      : born !== null
        ? ` (born ${born})`
        : died !== null
          ? ` (died ${died})`
          : '';
  return `${name}${life}${year === null ? '' : `, ${year}`}`;
}

const same = (people: readonly Author[], { layer, name, born, died, year }: Author): boolean => {
  const [first] = people;
  const is = [first?.layer, first?.name, first?.born, first?.died, first?.year];
  return people.length === 1 && [layer, name, born, died, year].every((each, i) => each === is[i]);
};

/** A person as a credit line, which `peopleIn` reads again: `Words: John Newton (1725–1807), 1779`. */
export function creditLine(person: Author): string {
  const plain = `${CREDITED[person.layer]}: ${nameWithYears(person)}`;
  return same(inLine(plain), person)
    ? plain
    : `${CREDITED[person.layer]} by: ${nameWithYears(person)}`;
}

/** The person of a credit line that is written as `creditLine` does; null: it is another. */
export function personOf(line: string): Author | null {
  const people = inLine(line);
  const [person] = people;
  return person && people.length === 1 && creditLine(person) === line ? person : null;
}
