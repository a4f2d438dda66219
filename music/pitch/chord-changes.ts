import type { Tone } from './chord-degrees.ts';
import type { Quality } from './chord-stack.ts';
import type { ChordText } from './chord-text.ts';
import { ALTERABLE } from './chord-writer.ts';

function alterOf(sign: string): number {
  return /[#+]/.test(sign) ? sign.length : 0 - sign.length;
}

/** Everything after quality and number: `sus`, `add`, `no`, `alt`, alterations, with or without parentheses. */
export class ChordChanges {
  private readonly symbol: ChordText;
  /** Null: a kind that is called by its name. */
  private readonly said: Quality | null;
  private number: string;
  private tones: Tone[];
  private readonly open: number[] = [];
  private readonly changed = new Set<number>();

  constructor(symbol: ChordText, said: Quality | null, number: string, tones: readonly Tone[]) {
    this.symbol = symbol;
    this.said = said;
    this.number = number;
    this.tones = [...tones];
  }

  /** Reads to the end of the symbol and gives the tones that are left. */
  read(): Tone[] {
    const { symbol } = this;
    while (symbol.at < symbol.end) {
      if (symbol.take(/^[\s,]+/) || this.parenthesis()) continue;
      if (this.sus() || this.add() || this.without() || this.altered()) continue;
      if (this.majorSeventh() || this.alteration() || this.extension()) continue;
      this.unknown();
    }
    const left = this.open.at(-1);
    if (left !== undefined) {
      symbol.refuse('chord-parenthesis', 'This parenthesis is not closed.', left);
    }
    return this.tones;
  }

  private unknown(): never {
    const rest = this.symbol.rest();
    const degree = /^(?:[#b+-]{0,2}\d+|add\S*)/.exec(rest)?.[0];
    if (degree) {
      const message = `“${degree}” is no degree that can be changed or added here.`;
      this.symbol.refuse('chord-degree', message);
    }
    const before = this.symbol.written(0).trim();
    return this.symbol.refuse('chord-quality', `“${rest}” is not understood after “${before}”.`);
  }

  private parenthesis(): boolean {
    const { at } = this.symbol;
    if (this.symbol.take(/^\(/)) {
      this.open.push(at);
      return true;
    }
    if (!this.symbol.take(/^\)/)) return false;
    if (this.open.pop() === undefined) {
      this.symbol.refuse('chord-parenthesis', 'This parenthesis was not opened.', at);
    }
    return true;
  }

  private has(value: number): boolean {
    return this.tones.some((tone) => tone[0] === value);
  }

  /** Takes the place of the kind's own degree the first time, stands beside it after that (7b9#9). */
  private change(value: number, alter: number): void {
    if (this.has(value) && !this.changed.has(value)) {
      this.tones = this.tones.filter((tone) => tone[0] !== value);
    }
    this.changed.add(value);
    this.tones.push([value, alter]);
  }

  private sus(): boolean {
    const { at } = this.symbol;
    const match = this.symbol.take(/^sus(?:pended)?\s*(2\/?4|4\/?2|2|4|7|9|13)?(?!\d)/i);
    if (!match) return false;
    if (this.said?.said === 'minor') {
      const message = 'A suspended chord has no third, so that minor says nothing here.';
      this.symbol.warn('chord-minor-suspended', message, at);
    }
    const which = match[1] ?? '4';
    this.tones = this.tones.filter(
      ([value, alter]) => value !== 3 && !(value === 11 && alter === 0),
    );
    if (which.includes('2')) this.tones.push([2, 0]);
    if (which !== '2') this.tones.push([4, 0]);
    if (/^(7|9|13)$/.test(which)) {
      if (this.number !== '') {
        this.symbol.refuse('chord-contradiction', `“${match[0]}” gives a second number.`, at);
      }
      for (const value of [7, 9, 13]) if (value <= Number(which)) this.tones.push([value, 0]);
    }
    return true;
  }

  private add(): boolean {
    const { at } = this.symbol;
    const major = this.symbol.take(/^add\s*\(?\s*(?:maj|ma|M)7/);
    const match =
      major ?? this.symbol.take(/^add\s*\(?\s*([#+]{1,3}|[b-]{1,3}|)(1[0-3]|[1-9])(?!\d)/i);
    if (!match) return false;
    const bracket = match[0].indexOf('(');
    if (bracket >= 0) this.open.push(at + bracket);
    if (major) {
      this.tones.push([7, 1]);
      return true;
    }
    const [, sign = '', digits = ''] = match;
    const value = Number(digits);
    const alter = alterOf(sign);
    // With a sign a seventh is said against the major one: bb7 is the diminished seventh.
    this.tones.push([value, value === 7 && sign !== '' ? alter + 1 : alter]);
    return true;
  }

  private without(): boolean {
    const { at } = this.symbol;
    const match = this.symbol.take(
      /^(?:no|omit)\s*(?:the\s+)?(root|1[0-3]|[1-9])(?!\d)(?:st|nd|rd|th)?/i,
    );
    if (!match) return false;
    const value = (match[1] ?? '').toLowerCase().includes('root') ? 1 : Number(match[1]);
    if (!this.has(value)) {
      const message = `“${match[0]}” leaves out a note that is not in the chord.`;
      this.symbol.refuse('chord-contradiction', message, at);
    }
    this.tones = this.tones.filter((tone) => tone[0] !== value);
    return true;
  }

  /** Common practice leaves the choice to the player; something must sound, and #5 #9 is a usual choice. */
  private altered(): boolean {
    const { at } = this.symbol;
    if (!this.symbol.take(/^alt(?:ered)?(?![a-z])/i)) return false;
    if (!this.has(7)) this.tones.push([7, 0]);
    this.change(5, 1);
    this.change(9, 1);
    const message = '“alt” leaves the altered notes to the player: read as #5 and #9.';
    this.symbol.warn('chord-altered', message, at);
    return true;
  }

  /** The major seventh of a chord that is minor, diminished, augmented, a sixth, or has nothing yet. */
  private majorSeventh(): boolean {
    const { at } = this.symbol;
    const match = this.symbol.take(
      /^(?:(?:major|maj|ma|M)\s*(7|9|11|13)|[Δ△∆]\s*(7|9|11|13)?)(?!\d)/i,
    );
    if (!match) return false;
    if (this.has(7) || !['', '6', '69'].includes(this.number)) {
      this.symbol.refuse('chord-contradiction', `“${match[0]}” gives a second seventh.`, at);
    }
    if (this.said?.said === 'major') {
      this.symbol.refuse('chord-contradiction', `“${match[0]}” says major twice.`, at);
    }
    this.tones.push([7, 1]);
    const highest = Number(match[1] ?? match[2] ?? 7);
    for (const value of [9, 11, 13]) if (value <= highest) this.tones.push([value, 0]);
    this.number = String(highest);
    return true;
  }

  private alteration(): boolean {
    if (this.symbol.take(/^\+(?!\d)/)) {
      this.change(5, 1);
      return true;
    }
    const match = /^([#+]{1,2}|[b-]{1,2})(13|11|9|6|5|4|2)/.exec(this.symbol.rest());
    const value = Number(match?.[2]);
    if (!match || !ALTERABLE.includes(value)) return false;
    this.symbol.at += match[0].length;
    const sign = match[1] ?? '';
    this.change(value, alterOf(sign));
    return true;
  }

  /** A plain number in parentheses or after a space adds its note: 7(13), m7 (11). */
  private extension(): boolean {
    const before = this.symbol.text.charAt(this.symbol.at - 1);
    const match = /^(13|11|9|7|6|4|2)(?!\d)/.exec(this.symbol.rest());
    if (!match || !/[\s(),]/.test(before)) return false;
    const value = Number(match[1]);
    if (this.has(value)) {
      this.symbol.refuse('chord-contradiction', `The chord has its ${value} already.`);
    }
    this.symbol.at += match[0].length;
    this.tones.push([value, 0]);
    return true;
  }
}
