import { SaxesParser, type SaxesTagPlain } from 'saxes';
import { quoted, type Report } from '../../report.ts';
import {
  DEEPEST,
  LONGEST_TEXT,
  MOST_ATTRIBUTES,
  MOST_BARS,
  MOST_CHARACTERS,
  MOST_ELEMENTS,
  MOST_IN_PIECE,
  MOST_PARTS,
} from './limits.ts';
import type { XmlNode } from './tree.ts';

/** Who is told of a score as it is read: nothing is kept longer than one measure. */
export interface ScoreXmlHandler {
  /** A child of the root that is no music: `work`, `part-list` … */
  head(node: XmlNode): void;
  /** One measure of one part; `index` counts from 0. `measure` has the attributes, `content` the music. */
  measure(
    part: string,
    index: number,
    measure: Readonly<Record<string, string>>,
    content: XmlNode,
  ): void;
}

type Open = { -readonly [K in keyof XmlNode]: XmlNode[K] } & { children: XmlNode[] };

/** Ends the reading from inside the parser: the problem is in the report. */
class Stop extends Error {}

const ROOTS = ['score-partwise', 'score-timewise'];
/** The parser is fed in pieces, so that limits are seen before the whole is read. */
const PIECE = 65_536;

/** Reads the text of a score, partwise or timewise, piece by piece. Whether it could be read to its end. */
export function readScoreXml(text: string, handler: ScoreXmlHandler, report: Report): boolean {
  if (text.length > MOST_CHARACTERS) {
    const words = `This file has ${String(text.length)} characters; ${String(MOST_CHARACTERS)} are the most that are read.`;
    report.problem('file-too-large', words, { line: 1 });
    return false;
  }
  const reader = new ScoreXmlReader(handler, report);
  try {
    reader.read(text);
    return true;
  } catch (caught) {
    if (caught instanceof Stop) return false;
    throw caught;
  }
}

class ScoreXmlReader {
  readonly #handler: ScoreXmlHandler;
  readonly #report: Report;
  readonly #parser = new SaxesParser();
  readonly #path: string[] = [];
  /** The open elements of the piece that is gathered, outermost first. */
  readonly #open: Open[] = [];
  readonly #bars = new Map<string, number>();
  #elements = 0;
  #inPiece = 0;
  #attributes = 0;
  #outer: Readonly<Record<string, string>> = {};
  #timewiseIndex = -1;

  constructor(handler: ScoreXmlHandler, report: Report) {
    this.#handler = handler;
    this.#report = report;
  }

  read(text: string): void {
    const parser = this.#parser;
    parser.on('error', (error) => this.#broken(error.message));
    parser.on('doctype', (doctype) => {
      this.#doctype(doctype);
    });
    parser.on('opentagstart', ({ name }) => {
      this.#opening(name);
    });
    parser.on('attribute', ({ name, value }) => {
      this.#attributes += 1;
      if (this.#attributes > MOST_ATTRIBUTES) {
        this.#stop(
          'xml-too-wide',
          `One element has more than ${String(MOST_ATTRIBUTES)} attributes.`,
        );
      }
      this.#length(name.length + value.length);
    });
    parser.on('opentag', (tag) => {
      this.#opened(tag);
    });
    parser.on('text', (words) => {
      this.#text(words);
    });
    parser.on('cdata', (words) => {
      this.#text(words);
    });
    parser.on('closetag', () => {
      this.#closed();
    });
    for (let at = 0; at < text.length; at += PIECE) parser.write(text.slice(at, at + PIECE));
    parser.close();
    if (this.#elements === 0) this.#stop('not-a-score', 'There is no MusicXML score here.');
  }

  #stop(code: string, message: string): never {
    this.#report.problem(code, message, { line: this.#parser.line });
    throw new Stop(code);
  }

  #broken(message: string): never {
    const said = message.replace(/^(\d+:\d+: )?/, '').replace(/\.$/, '');
    if (/undefined entity/i.test(said)) {
      this.#stop(
        'entity-unknown',
        `Line ${String(this.#parser.line)} has an entity that XML does not know; entities of a file's own are not followed.`,
      );
    }
    this.#stop(
      'xml-broken',
      `The XML is broken in line ${String(this.#parser.line)} (${said}); perhaps the file is cut off or damaged.`,
    );
  }

  #doctype(doctype: string): void {
    this.#length(doctype.length);
    if (/<!ENTITY/i.test(doctype)) {
      this.#stop(
        'entities-declared',
        'The file declares entities of its own; they are never followed, and the file is not read.',
      );
    }
    if (doctype.includes('[')) {
      const words = 'The file brings document rules of its own; they are not followed.';
      this.#report.warn('own-rules', words, { line: this.#parser.line });
    }
  }

  #length(characters: number): void {
    if (characters <= LONGEST_TEXT) return;
    this.#stop('text-too-long', `One text has more than ${String(LONGEST_TEXT)} characters.`);
  }

  #opening(name: string): void {
    this.#elements += 1;
    this.#attributes = 0;
    if (this.#elements > MOST_ELEMENTS) {
      this.#stop('too-many-elements', `The file has more than ${String(MOST_ELEMENTS)} elements.`);
    }
    this.#inPiece = this.#open.length === 0 ? 0 : this.#inPiece + 1;
    if (this.#inPiece > MOST_IN_PIECE) {
      const words = `One bar has more than ${String(MOST_IN_PIECE)} elements.`;
      this.#stop('too-many-elements', words);
    }
    if (this.#path.length >= DEEPEST) {
      const words = `The elements stand more than ${String(DEEPEST)} deep inside each other.`;
      this.#stop('xml-too-deep', words);
    }
    this.#length(name.length);
  }

  #opened(tag: SaxesTagPlain): void {
    const { name, attributes } = tag;
    const depth = this.#path.length;
    this.#path.push(name);
    if (depth === 0) this.#root(name);
    else if (this.#open.length > 0 || this.#gathers(name, attributes, depth)) {
      const node: Open = { name, attributes, children: [], text: '', line: this.#parser.line };
      this.#open.at(-1)?.children.push(node);
      this.#open.push(node);
    }
  }

  #root(name: string): void {
    if (ROOTS.includes(name)) return;
    if (name === 'opus') {
      const words = 'This file is a list of other files (an opus); please choose one of those.';
      this.#stop('opus', words);
    }
    this.#stop(
      'not-a-score',
      `This is XML, but no MusicXML score: it begins with ${quoted(name)}.`,
    );
  }

  /** Whether an element outside any piece begins one. `part` and `measure` of the outer kind are only remembered. */
  #gathers(name: string, attributes: Record<string, string>, depth: number): boolean {
    const outer = this.#path[0] === 'score-partwise' ? 'part' : 'measure';
    if (depth === 1 && name === outer) {
      this.#outer = attributes;
      if (outer === 'measure') this.#timewiseIndex += 1;
      return false;
    }
    return true;
  }

  #text(words: string): void {
    const open = this.#open.at(-1);
    if (!open || (open.text === '' && open.children.length > 0)) return;
    open.text += words;
    this.#length(open.text.length);
  }

  #closed(): void {
    this.#path.pop();
    const node = this.#open.pop();
    if (!node || this.#open.length > 0) return;
    if (this.#path.length === 1) this.#handler.head(node);
    else this.#measure(node);
  }

  #measure(node: XmlNode): void {
    const partwise = this.#path[0] === 'score-partwise';
    if (node.name !== (partwise ? 'measure' : 'part')) return;
    const part = (partwise ? this.#outer : node.attributes)['id'] ?? '';
    const measure = partwise ? node.attributes : this.#outer;
    const count = this.#bars.get(part) ?? 0;
    const index = partwise ? count : this.#timewiseIndex;
    this.#bars.set(part, count + 1);
    if (this.#bars.size > MOST_PARTS) {
      this.#stop('too-many-parts', `The file has more than ${String(MOST_PARTS)} parts.`);
    }
    if (index >= MOST_BARS) {
      this.#stop('too-many-bars', `The file has more than ${String(MOST_BARS)} bars.`);
    }
    this.#handler.measure(part, index, measure, node);
  }
}
