import { isLayout } from './directives.ts';
import { typesetText, type FactsReader } from './facts.ts';
import type { Line } from './lines.ts';
import { quoted, type Report } from '../report.ts';
import { plain } from './text.ts';
import type { PrintedLine } from './verses.ts';
import { readStaves, type Place } from './voices.ts';

/** A directive of our own writer, for what no field of ABC holds: `%%partbook-form verse:1 refrain`. */
export interface OwnDirective {
  readonly name: string;
  readonly value: string;
  readonly line: number;
}

/** Reads the lines that begin with `%%`. */
export class DirectiveReader {
  readonly #facts: FactsReader;
  readonly #report: Report;
  readonly #layout = new Map<string, number>();
  /** Decorations that the file defines. */
  readonly known = new Set<string>();
  readonly own: OwnDirective[] = [];
  /** Words printed below the music, from `W:` lines and from blocks of text. */
  readonly printed: PrintedLine[] = [];
  staves: ReadonlyMap<string, Place> | null = null;
  #block: Line[] | null = null;

  constructor(facts: FactsReader, report: Report) {
    this.#facts = facts;
    this.#report = report;
  }

  /** Whether a line belongs to a block of text that was begun. */
  inBlock(line: Line): boolean {
    if (!this.#block) return false;
    if (line.kind === 'directive' && line.name === 'endtext') this.#endBlock(this.#block);
    else this.#block.push(line);
    return true;
  }

  read(line: Extract<Line, { kind: 'directive' }>, musicBegan: boolean): void {
    const { name, number } = line;
    const text = line.value.replace(/(^|[^\\])%.*$/s, '$1').trim();
    if (name === 'begintext') this.#block = [line];
    else if (name === 'staves' || name === 'score') this.#staves(name, text, number, musicBegan);
    else if (name === 'deco') this.known.add(text.split(/\s/)[0] ?? '');
    else if (name === 'text' || name === 'center') this.#facts.add(name, text);
    else if (name === 'partbook-fact') this.#fact(line.value);
    else if (name.startsWith('partbook-')) {
      this.own.push({ name: name.slice(9), value: line.value.trim(), line: number });
    } else if (name === 'propagate-accidentals' && text !== 'pitch') {
      const words = `%%propagate-accidentals ${text} is not followed, so the notes could be wrong.`;
      this.#report.problem('accidentals-otherwise', words, { line: number });
    } else if (name === '' || isLayout(name)) {
      this.#layout.set(name, (this.#layout.get(name) ?? 0) + 1);
    } else {
      const words = `${quoted(`%%${name}`)} is not known and left out.`;
      this.#report.warn('directive-unknown', words, { line: number });
    }
  }

  /** Says what held no music and was not kept. */
  finish(line: number): void {
    const [begun] = this.#block ?? [];
    if (begun) {
      const words = '%%begintext has no %%endtext; what follows was taken for text.';
      this.#report.problem('text-not-closed', words, { line: begun.number });
    }
    const names = [...this.#layout].filter(([name]) => name !== '');
    const count = names.reduce((sum, [, each]) => sum + each, 0);
    if (count > 0) {
      const list = names.slice(0, 12).map(([name]) => name);
      const words = `${String(count)} directives for the page and the playing program (${list.join(', ')}) hold no music and are not kept.`;
      this.#report.warn('info-layout', words, { line });
    }
    const { comments } = this.#facts;
    if (comments > 0) {
      const words = `${String(comments)} comment lines are not kept.`;
      this.#report.warn('info-comments', words, { line });
    }
  }

  #staves(name: string, text: string, line: number, musicBegan: boolean): void {
    const staves = readStaves(text);
    if (!staves) {
      const words = `${quoted(`%%${name} ${text}`)} cannot be understood; every voice gets its own staff.`;
      this.#report.warn('staves-garbled', words, { line });
    } else if (this.staves && musicBegan) {
      const words = 'The staves change in the middle; the first order is kept.';
      this.#report.warn('staves-change', words, { line });
    } else this.staves = staves;
  }

  /** Verses, where the text begins with a number; else a fact. */
  #endBlock(block: readonly Line[]): void {
    this.#block = null;
    const text = typesetText(block.slice(1));
    const first = text.find((each) => each !== '');
    if (first === undefined) return;
    if (!/^\d{1,3}[.):]/.test(first)) {
      this.#facts.add('text', text.join('\n').trim());
      return;
    }
    if (this.printed.length > 0) this.printed.push({ text: '' });
    for (const each of text) this.printed.push({ text: each });
  }

  /** `%%partbook-fact "name" text`. */
  #fact(value: string): void {
    const match = /^"([^"]*)"\s?(.*)$/s.exec(value);
    if (match) this.#facts.add(plain(match[1] ?? ''), plain(match[2] ?? '').trim());
  }
}
