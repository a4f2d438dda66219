import type { Problem } from '../result.ts';

/** Thrown inside the reading of a symbol and turned into a value at its door. */
export class Refusal extends Error {
  readonly problem: Problem;
  constructor(problem: Problem) {
    super(problem.message);
    this.problem = problem;
  }
}

/** One kind of accidental and dash; every replacement keeps the length, so that columns stay true. */
function plain(text: string): string {
  return text
    .replaceAll('♯', '#')
    .replaceAll('♭', 'b')
    .replaceAll('𝄪', '##')
    .replaceAll('𝄫', 'bb')
    .replaceAll(/[−–]/g, '-');
}

/** A symbol as it is being read, from left to right. Places are 0-based inside, columns 1-based outside. */
export class ChordText {
  readonly text: string;
  readonly warnings: Problem[] = [];
  /** Place of the next sign. */
  at: number;
  /** Where what is still to be read ends. */
  end: number;

  constructor(text: string) {
    this.text = plain(text);
    this.at = this.text.length - this.text.trimStart().length;
    this.end = this.text.trimEnd().length;
  }

  rest(): string {
    return this.text.slice(this.at, this.end);
  }

  written(from: number, to = this.at): string {
    return this.text.slice(from, to);
  }

  take(pattern: RegExp): RegExpExecArray | null {
    const match = pattern.exec(this.rest());
    if (match) this.at += match[0].length;
    return match;
  }

  refuse(code: string, message: string, at = this.at): never {
    throw new Refusal({ code, message, column: at + 1 });
  }

  warn(code: string, message: string, at: number): void {
    this.warnings.push({ code, message, column: at + 1 });
  }
}
