import { failure, success, type Problem, type Result } from '../result.ts';
import { canonical, inOrder, kindOf, NAMED, TONES, type Tone } from './chord-degrees.ts';
import { ALTERABLE } from './chord-writer.ts';
import type { Chord, ChordKind } from './chord.ts';
import type { NoteName } from './pitch.ts';

/** No chord symbol is longer; anything that is gets refused before it is looked at. */
const LONGEST = 60;

/** One kind of accidental; every replacement keeps the length, so that columns stay true. */
function plain(text: string): string {
  return text
    .replaceAll('♯', '#')
    .replaceAll('♭', 'b')
    .replaceAll('𝄪', '##')
    .replaceAll('𝄫', 'bb')
    .replaceAll(/[−–]/g, '-');
}

class Refusal extends Error {
  readonly problem: Problem;
  constructor(problem: Problem) {
    super(problem.message);
    this.problem = problem;
  }
}

/**
 * The chord of a symbol as musicians write it: `Am7/G`, `F♯m7♭5`, `Csus`, `B♭6/9`, `N.C.` It comes in the one
 * form of `canonical`. What it doubts it says in a warning; what it does not understand it refuses with a code, a
 * sentence and the column.
 *
 * Codes: chord-empty, chord-too-long, chord-root, chord-german-h, chord-quality, chord-degree, chord-number,
 * chord-contradiction, chord-parenthesis, chord-bass. Warnings: chord-lower-case, chord-four, chord-altered,
 * chord-minor-suspended.
 */
export function read(text: string): Result<Chord> {
  try {
    return new Reader(text).chord();
  } catch (problem) {
    if (problem instanceof Refusal) return failure(problem.problem);
    throw problem;
  }
}

type Third = 'major' | 'minor';
interface Quality {
  readonly third: Third;
  readonly fifth: number;
  readonly seventh: number;
  readonly said:
    'nothing' | 'major' | 'minor' | 'diminished' | 'half-diminished' | 'augmented' | 'dominant';
  /** The sign alone means a seventh: a triangle, a crossed circle. */
  readonly impliesSeventh: boolean;
}

function quality(said: Quality['said'], impliesSeventh = false): Quality {
  const third = said === 'minor' || said.endsWith('diminished') ? 'minor' : 'major';
  const fifth = said === 'augmented' ? 1 : said.endsWith('diminished') ? -1 : 0;
  const seventh = said === 'major' ? 1 : said === 'diminished' ? -1 : 0;
  return { third, fifth, seventh, said, impliesSeventh };
}

/** Words and signs that may follow the root, longest first; single letters mind their case, words do not. */
const QUALITIES: readonly (readonly [RegExp, Quality])[] = [
  [/^(?:half-?dim(?:inished)?|hdim|[øØ])/i, quality('half-diminished', true)],
  [/^(?:diminished|dim|[°º˚]|o(?![a-z]))/i, quality('diminished')],
  [/^(?:augmented|aug|\+)/i, quality('augmented')],
  [/^(?:dominant|dom)/i, quality('dominant', true)],
  [/^(?:major|maj|ma(?!dd))/i, quality('major')],
  [/^[Δ△∆]/, quality('major', true)],
  [/^(?:minor|min|mi)/i, quality('minor')],
  [/^M/, quality('major')],
  [/^[m-]/, quality('minor')],
];

/** Words for the kinds that no letter sign stands for. */
const NAMED_KINDS: ReadonlyMap<string, ChordKind> = new Map(
  NAMED.filter((kind) => kind !== 'none').map((kind) => [kind.toLowerCase(), kind]),
);

class Reader {
  private readonly text: string;
  private readonly warnings: Problem[] = [];
  /** 0-based place of the next sign. */
  private at = 0;
  private end: number;
  private open: number[] = [];
  private tones: Tone[] = [];
  private readonly changed = new Set<number>();

  constructor(text: string) {
    this.text = plain(text);
    this.end = this.text.trimEnd().length;
    this.at = this.text.length - this.text.trimStart().length;
  }

  chord(): Result<Chord> {
    if (this.at >= this.end) this.refuse('chord-empty', 'There is no chord here.', 0);
    if (this.end - this.at > LONGEST) {
      this.refuse('chord-too-long', `A chord symbol has at most ${LONGEST} signs.`);
    }
    if (/^(?:n\.? ?c\.?|no chord)$/i.test(this.rest())) {
      return success(canonical({ root: 'C', kind: 'none', degrees: [], bass: null }));
    }
    const rootAt = this.at;
    const root = this.note('root');
    const bass = this.bass();
    const named = this.named();
    const said = named ? null : this.quality();
    const number = named ? null : this.number(said ?? quality('nothing'));
    if (said) this.tones = this.stack(said, number ?? '', rootAt);
    else if (named) this.tones = [...TONES[named]];
    this.modifiers(said, number);
    if (said && this.text.charAt(rootAt) >= 'a' && said.third === 'major') {
      const written = this.text.slice(rootAt, this.end);
      this.warn(
        'chord-lower-case',
        `“${written}” is read with the root ${root}, major; a small letter may mean ${root}m.`,
        rootAt,
      );
    }
    const found: Chord = named
      ? { root, kind: named, degrees: [], bass }
      : { root, ...kindOf(this.tones), bass };
    return success(canonical(named ? this.withChanges(found) : found), this.warnings);
  }

  /** A named kind keeps its name; what was changed in it is said as degrees. */
  private withChanges(chord: Chord): Chord {
    const missing = TONES[chord.kind].filter(([value]) => !this.tones.some((t) => t[0] === value));
    const base = TONES[chord.kind];
    const fresh = this.tones.filter(
      ([v, a]) => !base.some((tone) => tone[0] === v && tone[1] === a),
    );
    const replaced = base.filter(
      ([v, a]) =>
        fresh.some((t) => t[0] === v) && !this.tones.some((t) => t[0] === v && t[1] === a),
    );
    return {
      ...chord,
      degrees: [
        ...[...missing, ...replaced].map(
          ([value]) => ({ type: 'subtract', value, alter: 0 }) as const,
        ),
        ...fresh.map(([value, alter]) => ({ type: 'add', value, alter }) as const),
      ],
    };
  }

  private rest(): string {
    return this.text.slice(this.at, this.end);
  }

  private take(pattern: RegExp): RegExpExecArray | null {
    const match = pattern.exec(this.rest());
    if (match) this.at += match[0].length;
    return match;
  }

  private refuse(code: string, message: string, at = this.at): never {
    throw new Refusal({ code, message, column: at + 1 });
  }

  private warn(code: string, message: string, at: number): void {
    this.warnings.push({ code, message, column: at + 1 });
  }

  private note(place: 'root' | 'bass'): NoteName {
    const match = this.take(/^([A-Ga-g])(##|bb|#|b|)(?![#])/);
    if (match) return (match[1] ?? '').toUpperCase() + (match[2] ?? '');
    const sign = [...this.rest()][0] ?? '';
    const code = place === 'root' ? 'chord-root' : 'chord-bass';
    if (/^h/i.test(sign)) {
      this.refuse(
        'chord-german-h',
        'H is a German name: write B for it (and Bb for the German B).',
      );
    }
    if (/^[A-Ga-g]/.test(sign))
      this.refuse(code, `“${sign}” has more accidentals than a chord can.`);
    const what = place === 'root' ? 'A chord begins with' : 'After the slash stands';
    this.refuse(code, `${what} a letter from A to G, not “${sign}”.`);
  }

  /** The note after the last slash, unless a number stands there (6/9). It is cut off the text that is left. */
  private bass(): NoteName | null {
    const match = /\s*\/\s*([^/\d][^/]*)?$/.exec(this.rest());
    if (!match) return null;
    const { at, end } = this;
    const bodyEnd = at + match.index;
    this.at = bodyEnd + match[0].length - (match[1] ?? '').length;
    if (this.at >= end) this.refuse('chord-bass', 'After the slash stands the bass note.', end - 1);
    const bass = this.note('bass');
    if (this.at < end) {
      this.refuse(
        'chord-bass',
        `After the slash stands one note, not “${this.text.slice(this.at - bass.length, end)}”.`,
      );
    }
    this.at = at;
    this.end = bodyEnd;
    return bass;
  }

  private named(): ChordKind | null {
    const match = /^\s*\(?\s*([a-z]+)\s*\)?/i.exec(this.rest());
    const kind = NAMED_KINDS.get((match?.[1] ?? '').toLowerCase());
    if (!match || !kind) return null;
    this.at += match[0].length;
    return kind;
  }

  private quality(): Quality {
    this.take(/^ +/);
    // A sharp or flat sign after the sign of minor is no minor: C-5 is said in two ways.
    const start = this.at;
    for (const [pattern, found] of QUALITIES) {
      const match = this.take(pattern);
      if (!match) continue;
      if (match[0] === '-' && /^5/.test(this.rest())) {
        this.refuse(
          'chord-quality',
          '“-5” may be a flat fifth or a minor chord: write (b5) or m.',
          start,
        );
      }
      return found;
    }
    return quality('nothing');
  }

  private number(said: Quality): string {
    const at = this.at;
    const match = this.take(/^ *(13|11|9|7|6\/9|69|6|5|4|2)(?!\d)/);
    if (match) return match[1] === '6/9' ? '69' : (match[1] ?? '');
    const unknown = /^ *(\d+)/.exec(this.rest());
    if (unknown) this.refuse('chord-number', `A chord has no number ${unknown[1]}.`, at);
    return said.impliesSeventh ? '7' : '';
  }

  private stack(said: Quality, number: string, rootAt: number): Tone[] {
    const third: Tone = [3, said.third === 'minor' ? -1 : 0];
    const triad: Tone[] = [[1, 0], third, [5, said.fifth]];
    const written = this.text.slice(rootAt, this.at);
    switch (number) {
      case '':
        return triad;
      case '2':
        return [...triad, [2, 0]];
      case '4':
        this.warn(
          'chord-four',
          `“${written}” is read as sus4; write add4 to keep the third.`,
          rootAt,
        );
        return triad.map((tone) => (tone === third ? [4, 0] : tone));
      case '5':
        if (said.said === 'augmented') return triad;
        if (said.said === 'nothing') return triad.filter((tone) => tone !== third);
        return this.refuse(
          'chord-contradiction',
          `“${written}” says a third and 5 says that there is none.`,
          rootAt,
        );
      case '6':
      case '69': {
        if (said.fifth !== 0) {
          this.refuse(
            'chord-contradiction',
            `“${written}” has no usual meaning: a sixth stands on a major or minor chord.`,
            rootAt,
          );
        }
        const sixth: Tone[] = [...triad, [6, 0]];
        return number === '69' ? [...sixth, [9, 0]] : sixth;
      }
      default: {
        const stacked = [9, 11, 13].filter((value) => value <= Number(number));
        return [...triad, [7, said.seventh], ...stacked.map((value) => [value, 0] as const)];
      }
    }
  }

  private modifiers(said: Quality | null, number: string | null): void {
    let highest = number;
    while (this.at < this.end) {
      const at = this.at;
      if (this.take(/^[\s,]+/)) continue;
      if (this.take(/^\(/)) this.open.push(at);
      else if (this.take(/^\)/)) {
        if (this.open.pop() === undefined)
          this.refuse('chord-parenthesis', 'This parenthesis was not opened.', at);
      } else if (this.sus(said, highest) || this.add() || this.without() || this.altered())
        continue;
      else if (this.majorSeventh(said, highest)) highest = '7';
      else if (!this.alteration() && !this.extension()) this.unknown();
    }
    const left = this.open.at(-1);
    if (left !== undefined)
      this.refuse('chord-parenthesis', 'This parenthesis is not closed.', left);
    this.tones = inOrder(this.tones);
  }

  private unknown(): never {
    const rest = this.rest();
    const degree = /^(?:[#b+-]{0,2}\d+|add\S*)/.exec(rest)?.[0];
    if (degree)
      this.refuse('chord-degree', `“${degree}” is no degree that can be changed or added here.`);
    return this.refuse(
      'chord-quality',
      `“${rest}” is not understood after “${this.text.slice(0, this.at).trim()}”.`,
    );
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

  private sus(said: Quality | null, number: string | null): boolean {
    const at = this.at;
    const match = this.take(/^sus(?:pended)?\s*(2\/?4|4\/?2|2|4|7|9|13)?(?!\d)/i);
    if (!match) return false;
    if (said?.said === 'minor') {
      this.warn(
        'chord-minor-suspended',
        'A suspended chord has no third, so that minor says nothing here.',
        at,
      );
    }
    const which = match[1] ?? '4';
    this.tones = this.tones.filter((tone) => tone[0] !== 3 && !(tone[0] === 11 && tone[1] === 0));
    if (which.includes('2')) this.tones.push([2, 0]);
    if (which !== '2') this.tones.push([4, 0]);
    if (/^(7|9|13)$/.test(which)) {
      if (number !== '')
        this.refuse('chord-contradiction', `“${match[0]}” gives a second number.`, at);
      this.tones.push([7, 0]);
      if (which !== '7') this.tones.push([9, 0]);
      if (which === '13') this.tones.push([13, 0]);
    }
    return true;
  }

  private add(): boolean {
    const major = this.take(/^add\s*\(?\s*(?:maj|ma|M)7/);
    if (major) {
      this.tones.push([7, 1]);
      this.balance(major[0]);
      return true;
    }
    const match = this.take(/^add\s*\(?\s*([#+]{1,3}|[b-]{1,3}|)(1[0-3]|[1-9])(?!\d)/i);
    if (!match) return false;
    const [, sign = '', digits = ''] = match;
    const value = Number(digits);
    const alter = /[#+]/.test(sign) ? sign.length : -sign.length;
    // Signed, a seventh is said against the major one: bb7 is the diminished seventh.
    this.tones.push([value, value === 7 && sign !== '' ? alter + 1 : alter]);
    this.balance(match[0]);
    return true;
  }

  private balance(taken: string): void {
    if (taken.includes('(')) this.open.push(this.at - taken.length + taken.indexOf('('));
  }

  private without(): boolean {
    const at = this.at;
    const match = this.take(/^(?:no|omit)\s*(?:the\s+)?(root|1[0-3]|[1-9])(?!\d)(?:st|nd|rd|th)?/i);
    if (!match) return false;
    const value = /root/i.test(match[1] ?? '') ? 1 : Number(match[1]);
    if (!this.has(value)) {
      this.refuse(
        'chord-contradiction',
        `“${match[0]}” leaves out a note that is not in the chord.`,
        at,
      );
    }
    this.tones = this.tones.filter((tone) => tone[0] !== value);
    return true;
  }

  /** Common practice leaves the choice to the player; one is needed to play, and #5 #9 is the usual one. */
  private altered(): boolean {
    const at = this.at;
    if (!this.take(/^alt(?:ered)?(?![a-z])/i)) return false;
    if (!this.has(7)) this.tones.push([7, 0]);
    this.change(5, 1);
    this.change(9, 1);
    this.warn(
      'chord-altered',
      '“alt” leaves the altered notes to the player: read as #5 and #9.',
      at,
    );
    return true;
  }

  /** The major seventh of a chord that is minor, diminished, augmented, a sixth, or has nothing yet. */
  private majorSeventh(said: Quality | null, number: string | null): boolean {
    const at = this.at;
    const match = this.take(/^(?:(?:major|maj|ma|M)\s*(7|9|11|13)|[Δ△∆]\s*(7|9|11|13)?)(?!\d)/i);
    if (!match) return false;
    if (this.has(7) || (number !== '' && number !== '6' && number !== '69' && number !== null)) {
      this.refuse('chord-contradiction', `“${match[0]}” gives a second seventh.`, at);
    }
    if (said?.said === 'major') this.refuse('chord-quality', `“${match[0]}” says major twice.`, at);
    this.tones.push([7, 1]);
    for (const value of [9, 11, 13]) {
      if (value <= Number(match[1] ?? match[2] ?? 7)) this.tones.push([value, 0]);
    }
    return true;
  }

  private alteration(): boolean {
    if (this.take(/^\+(?!\d)/)) {
      this.change(5, 1);
      return true;
    }
    const match = /^([#+]{1,2}|[b-]{1,2})(13|11|9|6|5|4|2)/.exec(this.rest());
    const value = Number(match?.[2]);
    if (!match || !ALTERABLE.includes(value)) return false;
    this.at += match[0].length;
    const sign = match[1] ?? '';
    this.change(value, /[#+]/.test(sign) ? sign.length : -sign.length);
    return true;
  }

  /** A plain number in parentheses or after a space adds its note: 7(13), m7 (11). */
  private extension(): boolean {
    const before = this.text.charAt(this.at - 1);
    const match = /^(13|11|9|7|6|4|2)(?!\d)/.exec(this.rest());
    if (!match || !/[\s(),]/.test(before)) return false;
    const value = Number(match[1]);
    if (this.has(value)) {
      this.refuse('chord-contradiction', `The chord has its ${value} already.`);
    }
    this.at += match[0].length;
    this.tones.push([value, 0]);
    return true;
  }
}
