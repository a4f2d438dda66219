import { quoted, type At, type Report } from '../report.ts';

const LETTERS = 'CDEFGABcdefgab';
/** Letters of a transposing macro, the note itself in the middle: `m` is one below `n`, `o` one above. */
const CENTRE = 'n'.charCodeAt(0);
/** A line of music is not made longer than this. */
const LONGEST = 20_000;
const MOST_MACROS = 100;

interface Macro {
  readonly target: RegExp;
  readonly replacement: string;
  readonly transposes: boolean;
}

/** Shorthand for a stretch of music (ABC 2.1, section 9): `m: ~G2 = {A}G{F}G`, and for any note `m: ~n2 = {o}n{m}n`. */
export class Macros {
  readonly #macros: Macro[] = [];

  /** An `m:` field. */
  field(value: string, at: At, report: Report): void {
    if (this.#add(value)) return;
    report.problem('macro', `m: ${quoted(value)} is no macro, so notes could be missing.`, at);
  }

  /** A line of music with its macros written out, but not in words and signs. */
  writtenOut(
    { text, number }: { readonly text: string; readonly number: number },
    report: Report,
  ): string {
    if (this.#macros.length === 0) return text;
    const pieces = text.split(/("[^"]*"|![^!\s]*!|\[[A-Za-z]:[^\]]*\])/);
    const expanded = pieces.map((piece, i) => (i % 2 === 1 ? piece : this.#piece(piece))).join('');
    if (expanded.length <= LONGEST) return expanded;
    const words = 'The macros make this line longer than any line of music.';
    report.problem('macro-too-long', words, { line: number });
    return '';
  }

  /** False: it is no macro, or there are too many. */
  #add(value: string): boolean {
    const match = /^([^=\s][^=]{0,29}?)\s*=\s*(\S.{0,199})$/s.exec(value);
    const [, target = '', replacement = ''] = match ?? [];
    if (target === '' || this.#macros.length >= MOST_MACROS) return false;
    // A name such as `~n3`: the letter n stands for any note.
    const transposes = /^[^a-mo-zA-Z]*n[^a-zA-Z]*$/.test(target);
    const literal = target.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&');
    const pattern = transposes ? literal.replace('n', "([A-Ga-g])([,']*)") : literal;
    // A length behind the target makes it another one: `~G2` is not in `~G24`.
    const end = /\d$/.test(target) ? '(?!\\d)' : '(?![\\d/])';
    this.#macros.push({ target: new RegExp(pattern + end, 'g'), replacement, transposes });
    return true;
  }

  #piece(text: string): string {
    let expanded = text;
    for (const { target, replacement, transposes } of this.#macros) {
      if (expanded.length > LONGEST) break;
      expanded = expanded.replace(target, (_, letter: string, octave: string) =>
        transposes ? transposed(replacement, letter, octave) : replacement,
      );
    }
    return expanded;
  }
}

/** The letters h to z of a replacement as notes round a given one. */
function transposed(replacement: string, letter: string, octave: string): string {
  const place = LETTERS.indexOf(letter) + 7 * (octave.split("'").length - octave.split(',').length);
  return replacement.replace(/![^!]*!|"[^"]*"|[h-z]/g, (found) => {
    if (found.length > 1) return found;
    const step = place + found.charCodeAt(0) - CENTRE;
    const above = Math.max(0, Math.floor(step / 7) - 1);
    const below = Math.max(0, -Math.floor(step / 7));
    const written = LETTERS.charAt((((step % 7) + 7) % 7) + (step >= 7 ? 7 : 0));
    return written + "'".repeat(above) + ','.repeat(below);
  });
}
