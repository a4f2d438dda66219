import { knownPrefix } from './decorations.ts';
import { alterOf } from './fields.ts';
import { quoted, type At, type Report } from '../report.ts';
import type { Head, Length, Token } from './token.ts';

const HEAD = /(\^{1,2}|_{1,2}|=)?([A-Ga-g])([,']*)/y;
const LENGTH = /(\d*)(\/*)(\d*)/y;
const MARK = /([!+])([^!+\s"|[\]]{1,40})\1/y;
const FINGER = /!([1-5])!/y;
const ENDING = /\[?\s?(\d{1,2}(?:\s?[,-]\s?\d{1,2}){0,10})\.?/y;
/** Figures of a written length; more is damage. */
const MOST = 9_999_999;

/** Notes of a tune, each of a chord counted; a hymn has some hundred, more than these is damage. */
export const MOST_HEADS = 60_000;

/** How many notes a tune may still have. */
export interface Room {
  left: number;
}

type ChordHead = Extract<Token, { kind: 'chord' }>['heads'][number];

/** A place in one line of music, and the parts of a note that can be read there. */
export class Scanner {
  readonly text: string;
  readonly #line: number;
  readonly #report: Report;
  readonly #room: Room;
  at = 0;

  constructor(text: string, line: number, report: Report, room: Room) {
    this.text = text;
    this.#line = line;
    this.#report = report;
    this.#room = room;
  }

  get here(): Required<At> {
    return { line: this.#line, column: this.at + 1 };
  }

  sign(offset = 0): string {
    return this.text.charAt(this.at + offset);
  }

  ahead(length: number): string {
    return this.text.slice(this.at, this.at + length);
  }

  /** What fits a sticky pattern here. */
  match(pattern: RegExp): RegExpExecArray | null {
    pattern.lastIndex = this.at;
    return pattern.exec(this.text);
  }

  problem(code: string, message: string, at: At = this.here): void {
    this.#report.problem(code, message, at);
  }

  warn(code: string, message: string, at: At = this.here): void {
    this.#report.warn(code, message, at);
  }

  length(): Length {
    const place = this.here;
    const [all = '', over = '', slashes = '', under = ''] = this.match(LENGTH) ?? [];
    if (over === '' && slashes === '') return { over: 1, under: 1 };
    this.at += slashes === '' ? over.length : all.length;
    const divisor = under === '' ? 2 ** slashes.length : Number(under);
    const length = { over: over === '' ? 1 : Number(over), under: slashes === '' ? 1 : divisor };
    if (Math.min(length.over, length.under) >= 1 && Math.max(length.over, length.under) <= MOST) {
      return length;
    }
    this.problem('length-impossible', `A note cannot be ${quoted(all)} long.`, place);
    return { over: 1, under: 1 };
  }

  head(): Head | null {
    const found = this.match(HEAD);
    if (!found) return null;
    if (this.#isFull()) return null;
    const place = this.here;
    const [all, sign, letter = '', marks = ''] = found;
    this.at += all.length;
    const ups = marks.split("'").length - 1;
    const octave = (letter >= 'a' ? 5 : 4) + ups - (marks.length - ups);
    if (octave < 0 || octave > 9) {
      const words = `The note ${quoted(all)} is beyond anything that sounds.`;
      this.problem('pitch-impossible', words, place);
    }
    return {
      letter: letter.toUpperCase(),
      octave: Math.min(9, Math.max(0, octave)),
      accidental: sign === undefined ? null : alterOf(sign),
    };
  }

  /** Counts a note. Of a tune that has too many, the rest of the line is passed over, and that is said once. */
  #isFull(): boolean {
    this.#room.left -= 1;
    if (this.#room.left >= 0) return false;
    if (this.#room.left === -1) {
      this.problem('too-long', `The tune has more than ${String(MOST_HEADS)} notes.`);
    }
    this.at = this.text.length;
    return true;
  }

  /** From `[` to `]` and the length behind it. */
  chord(): Token | null {
    const place = this.here;
    const start = this.at;
    this.at += 1;
    const heads: ChordHead[] = [];
    let finger: number | null = null;
    while (this.at < this.text.length && this.sign() !== ']') {
      const mark = this.match(FINGER);
      if (mark) {
        finger = Number(mark[1]);
        this.at += mark[0].length;
        continue;
      }
      const head = this.head();
      if (head) {
        const length = this.length();
        const tied = this.sign() === '-';
        if (tied) this.at += 1;
        heads.push({ ...head, length, tied, finger });
        finger = null;
      } else if (this.sign() === ' ') {
        this.at += 1;
      } else if (/[.!(~HTLMPSOuv)]/.test(this.sign())) {
        this.warn('sign-in-chord', `The sign ${quoted(this.sign())} inside a chord is left out.`);
        this.at += 1;
      } else break;
    }
    if (this.#room.left < 0) return null;
    if (this.sign() !== ']' || heads.length === 0) {
      const shown = quoted(this.text.slice(start, start + 12));
      this.problem('chord-not-closed', `The chord that begins ${shown} has no end.`, place);
      return null;
    }
    this.at += 1;
    return { column: place.column, kind: 'chord', heads, length: this.length() };
  }

  /** From `{` to `}`; lengths of grace notes mean nothing. */
  grace(): Token | null {
    const place = this.here;
    const close = this.text.indexOf('}', this.at);
    if (close < 0) {
      this.problem('grace-not-closed', 'Grace notes are opened with { and never closed.', place);
      this.at = this.text.length;
      return null;
    }
    this.at += this.sign(1) === '/' ? 2 : 1;
    const heads: Head[] = [];
    while (this.at < close) {
      const head = this.head();
      if (head) {
        heads.push(head);
        this.length();
        continue;
      }
      if (this.#room.left < 0) return null;
      const sign = this.sign();
      if (!/[\s[\]()-]/.test(sign)) {
        this.warn('sign-in-grace', `${quoted(sign)} among grace notes is left out.`);
      }
      this.at += 1;
    }
    this.at = close + 1;
    return { column: place.column, kind: 'grace', heads };
  }

  /** `[1`, `[1,3`, `[1-3`, or the figures alone behind a bar line. */
  ending(): Token | null {
    const { column } = this.here;
    const found = this.match(ENDING);
    if (!found) return null;
    this.at += found[0].length;
    const numbers: number[] = [];
    for (const part of (found[1] ?? '').split(',')) {
      const [from = 0, to = from] = part.split('-').map(Number);
      for (let n = from; n <= to && numbers.length < 20; n += 1) numbers.push(n);
    }
    return { column, kind: 'ending', numbers };
  }

  /** `!trill!` or `+trill+`; one that is not closed is read where its name is known. */
  mark(): Token | null {
    const { column } = this.here;
    const found = this.match(MARK);
    if (found) {
      this.at += found[0].length;
      return { column, kind: 'decoration', name: found[2] ?? '' };
    }
    const sign = this.sign();
    const name = sign === '!' ? knownPrefix(this.text.slice(this.at + 1, this.at + 24)) : null;
    if (name !== null) {
      this.warn('sign-not-closed', `The sign !${name} has no closing !.`);
      this.at += 1 + name.length;
      return { column, kind: 'decoration', name };
    }
    if (sign === '!' && /^![^\s|!]/.test(this.ahead(2))) {
      const shown = quoted(this.ahead(12));
      this.problem('sign-not-closed', `The sign that begins ${shown} has no closing !.`);
      this.at = this.text.length;
      return null;
    }
    this.stray();
    return null;
  }

  /** One character that is no token is said and left out. */
  stray(): void {
    const quarter = /^(\^{1,3}|_{1,3})\d?\/?\d?[A-Ga-g]/.exec(this.ahead(6));
    if (quarter) {
      const words = `The accidental in ${quoted(quarter[0])} cannot be written here.`;
      this.problem('accidental-not-held', words);
    } else this.warn('stray-sign', `${quoted(this.sign())} means nothing here and is left out.`);
    this.at += 1;
  }
}
