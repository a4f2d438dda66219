import { personOf } from '../../../score/credits.ts';
import type { SongFacts } from '../../../score/score.ts';
import { OWN_FIELD, readOwnField, type OwnField } from '../own-field.ts';
import { child, childrenOf, numberIn, textOf, type XmlNode } from './tree.ts';

/** How a credit line begins that names somebody by what they did (common practice of hymnals). */
const BY_TYPE: Readonly<Record<string, string>> = {
  lyricist: 'Words',
  poet: 'Words',
  composer: 'Music',
  arranger: 'Arrangement',
  translator: 'Translation',
};

/** `Words: …`, `Music by …`, `Musik von …`: it says itself what it is. */
const SAYS_ITSELF =
  /^[\p{L} ]{3,40}:|\bby\b|^(?:musik|worte|text|satz|melodie|musique|paroles|m[uú]sica|letra) (?:von|par|de) /iu;

/**
 * A creator as a credit line; one that says itself what it is stays as it is.
 * @param isOwn our own writer names whoever is plainly a person without saying what of
 */
function creditLine(type: string, text: string, isOwn = false): string {
  const before = BY_TYPE[type];
  if (before === undefined) return text;
  const line = `${before}: ${text}`;
  if (!isOwn || /^[\p{L} ]{3,40}:/u.test(text)) return SAYS_ITSELF.test(text) ? text : line;
  return personOf(line) ? line : `${before} by: ${text}`;
}

interface Credit {
  readonly type: string;
  readonly text: string;
  readonly size: number;
  readonly center: boolean;
}

function creditOf(node: XmlNode): Credit[] {
  const words = childrenOf(node, 'credit-words');
  const text = words
    .map((each) => each.text)
    .join('')
    .replace(/[ \t]*\n[ \t]*/g, '\n')
    .trim();
  const [first] = words;
  if (!first || text === '' || (node.attributes['page'] ?? '1') !== '1') return [];
  return [
    {
      type: textOf(node, 'credit-type'),
      text,
      size: Math.max(
        ...words.map(({ attributes }) => numberIn(attributes['font-size'] ?? '') ?? 0),
      ),
      center: [first.attributes['justify'], first.attributes['halign']].includes('center'),
    },
  ];
}

/** What the head of a file says: facts of the song, names of parts, and what our own writer noted. */
export class HeaderReader {
  readonly partNames = new Map<string, string>();
  own: OwnField = {};
  /** Reads the file as if our own writer had noted nothing. */
  ignoresOwn = false;
  /** The file has its own field: facts are taken as they stand. */
  isOwn = false;
  /** Words printed below the music, by the number of their verse. */
  readonly printed = new Map<number, string[]>();
  #work = '';
  #movement = '';
  readonly #credits: Credit[] = [];
  readonly #creators: { type: string; text: string }[] = [];
  readonly #rights: string[] = [];
  readonly #subtitles: string[] = [];
  readonly #other: [string, string][] = [];
  #tune: string | null = null;
  #hymnMeter: string | null = null;
  #source: string | null = null;

  read(node: XmlNode): void {
    switch (node.name) {
      case 'work':
        this.#work = child(node, 'work-title')?.text ?? '';
        this.#add('work-number', textOf(node, 'work-number'));
        break;
      case 'movement-title':
        this.#movement = node.text.trim();
        break;
      case 'movement-number':
        this.#add('movement-number', node.text.trim());
        break;
      case 'identification':
        this.#identification(node);
        break;
      case 'credit':
        this.#credits.push(...creditOf(node));
        break;
      case 'part-list':
        this.#partList(node);
    }
  }

  #add(name: string, text: string): void {
    if (text !== '') this.#other.push([name, text]);
  }

  #partList(node: XmlNode): void {
    for (const part of childrenOf(node, 'score-part')) {
      const { id } = part.attributes;
      if (id !== undefined) this.partNames.set(id, child(part, 'part-name')?.text ?? '');
    }
  }

  #identification(node: XmlNode): void {
    for (const { name, text, attributes } of node.children) {
      if (name === 'creator' && text.trim() !== '') {
        this.#creators.push({ type: attributes['type'] ?? '', text: text.trim() });
      } else if (name === 'rights' && text.trim() !== '') this.#rights.push(text.trim());
      else if (name === 'source' && text.trim() !== '') this.#source = text.trim();
    }
    for (const encoding of childrenOf(node, 'encoding')) {
      this.isOwn ||= textOf(encoding, 'software') === 'Partbook';
    }
    for (const miscellaneous of childrenOf(node, 'miscellaneous')) {
      for (const field of childrenOf(miscellaneous, 'miscellaneous-field')) this.#field(field);
    }
  }

  #field({ attributes, text }: XmlNode): void {
    const name = attributes['name'] ?? '';
    const verse = /^verse (\d{1,3})$/.exec(name);
    if (name === OWN_FIELD) this.own = this.ignoresOwn ? {} : readOwnField(text);
    else if (name === 'subtitle') this.#subtitles.push(text);
    else if (name === 'tune') this.#tune = text;
    else if (name === 'hymn-meter') this.#hymnMeter = text;
    else if (verse) this.printed.set(Number(verse[1]), text.split('\n'));
    else if (name !== '' && text !== '') this.#other.push([name, text]);
  }

  facts(): SongFacts {
    const credits = this.#creators.map(({ type, text }) => creditLine(type, text, this.isOwn));
    const words = this.isOwn ? [] : this.#fromCredits(credits);
    const { title, subtitle } = this.#titles(words);
    const subtitles = [...this.#subtitles, ...(subtitle === '' ? [] : [subtitle])];
    if (!this.isOwn) {
      for (const { type, text } of words) {
        if (type === 'subtitle' && !subtitles.includes(text)) subtitles.push(text);
      }
    }
    return {
      title,
      subtitles,
      tune: this.#tune,
      hymnMeter: this.#hymnMeter,
      credits,
      rights: this.#rights.length === 0 ? null : this.#rights.join('\n'),
      source: this.#source,
      other: this.#other,
    };
  }

  /** The song's own title: of a song that stands in a larger work the movement's. */
  #titles(credits: readonly Credit[]): { title: string; subtitle: string } {
    const named = credits.find(({ type }) => type === 'title')?.text ?? '';
    const work = this.isOwn ? this.#work : this.#work.trim();
    const [movement] = [this.#movement];
    if (movement !== '' && work !== '' && movement !== work) {
      return work === named
        ? { title: work, subtitle: movement }
        : { title: movement, subtitle: work };
    }
    const largest = credits
      .filter(({ type, center }) => type === '' && center)
      .sort((a, b) => b.size - a.size)[0];
    return { title: work || movement || named || (largest?.text ?? ''), subtitle: '' };
  }

  /** Words on the first page; what nothing else in the head says is added to credits, rights and other facts. */
  #fromCredits(credits: string[]): Credit[] {
    const known = (text: string): boolean =>
      [this.#work.trim(), this.#movement, ...this.#rights, ...this.#subtitles].includes(text) ||
      this.#creators.some((creator) => creator.text === text);
    const fresh = this.#credits.filter(({ text }) => !known(text));
    for (const { type, text } of fresh) {
      if (type in BY_TYPE && !this.#creators.some((creator) => creator.type === type)) {
        credits.push(creditLine(type, text));
      } else if (type === 'rights' && this.#rights.length === 0) this.#rights.push(text);
      else if (type === '') this.#other.push(['credit words', text]);
    }
    return this.#credits;
  }
}
