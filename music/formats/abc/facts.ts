import type { SongFacts } from '../../score/score.ts';
import type { FieldLine, Line } from './lines.ts';
import { plain } from './text.ts';

/** Fields that are facts of the song. */
export const FACTS = 'TCSABDFGHNORZrI';
/** Those that belong to the head of a tune only. */
export const HEAD_ONLY = 'XCSABDFGHOZ';

/** Gathers what a file says in words. `OH…` are the comment fields of the Open Hymnal Project. */
export class FactsReader {
  readonly #titles: string[] = [];
  readonly #credits: string[] = [];
  readonly #sources: string[] = [];
  readonly #other: [string, string][] = [];
  #rights: string[] | null = null;
  #hymnMeter: string | null = null;
  #tune: string | null = null;
  /** Comments that are no metadata: how many were left out. */
  comments = 0;

  field(line: FieldLine): void {
    const text = plain(line.value).trim();
    this.comment(line.comment, true);
    if (text === '') return;
    if (line.letter === 'T') this.#titles.push(text);
    else if (line.letter === 'C') this.#credit(text);
    else if (line.letter === 'S') this.#sources.push(text);
    else this.#other.push([line.letter, text]);
  }

  /** `OHAUTHOR Newton, John`: metadata; any other comment is counted. */
  comment(text: string, trailing = false): void {
    const match = /^\s*(OH[A-Z]+)\s+(\S.*?)\s*$/s.exec(text);
    if (!match) {
      if (!trailing && /[\p{L}\d]/u.test(text)) this.comments += 1;
      return;
    }
    const [, name = '', value = ''] = match;
    if (name === 'OHMETRICAL' && this.#hymnMeter === null) {
      this.#hymnMeter = /^\d+( \d+)*$/.test(value) ? value.replaceAll(' ', '.') : value;
    } else this.#other.push([name, plain(value)]);
  }

  /** The tune as our own writer names it; empty: it has no name. */
  tune(name: string): void {
    this.#tune = plain(name);
  }

  add(name: string, text: string): void {
    this.#other.push([name, text]);
  }

  facts(): SongFacts {
    return {
      title: this.#titles[0] ?? '',
      subtitles: this.#titles.slice(1),
      tune: this.#tune === null ? tuneIn(this.#credits) : this.#tune || null,
      hymnMeter: this.#hymnMeter,
      credits: this.#credits,
      rights: this.#rights === null ? null : this.#rights.join(' '),
      source: this.#sources.length === 0 ? null : this.#sources.join('\n'),
      other: this.#other,
    };
  }

  /** A copyright line, and the credit lines that go on with it, are the rights. */
  #credit(text: string): void {
    const match = /^(?:copyright:|©)\s*(.*)$/is.exec(text);
    if (match) this.#rights = [...(this.#rights ?? []), match[1] ?? ''];
    else if (this.#rights) this.#rights.push(text);
    else this.#credits.push(text);
  }
}

/** The name of the tune in a credit line: `Music: 'New Britain' James P. Carrell`. */
export function tuneIn(credits: readonly string[]): string | null {
  for (const credit of credits) {
    const match = /\bMusic(?: and Setting)?:\s*'(.+?)'(?=[\s,.;]|$)/.exec(credit);
    if (match?.[1]) return match[1];
  }
  return null;
}

/** `%%begintext` … `%%endtext`: the lines between, tabs as spaces. */
export function typesetText(lines: readonly Line[]): string[] {
  return lines
    .flatMap((line) => {
      if (line.kind === 'directive') return [`${line.name} ${line.value}`];
      return line.kind === 'blank' ? [''] : line.kind === 'music' ? [line.text] : [];
    })
    .map((text) => text.replaceAll('\\t', ' ').trim());
}
