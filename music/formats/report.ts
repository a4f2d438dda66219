import type { Problem } from '../result.ts';

/** Where something stands in the text, both counted from 1. */
export interface At {
  readonly line: number;
  readonly column?: number;
}

/** Gathers what is wrong (problems: the song cannot be read) and what is read with a reservation (warnings). */
export interface Report {
  problem(code: string, message: string, at: At): void;
  warn(code: string, message: string, at: At): void;
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
}

/** A text that is broken everywhere is not listed without end: after this many the rest is counted. */
const MOST = 200;

export function newReport(): Report {
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const add = (list: Problem[], code: string, message: string, at: At): void => {
    if (list.length < MOST) {
      list.push({ code, message, ...at });
    } else if (list.length === MOST) {
      list.push({ code: 'and-more', message: 'More of the same kind follows below.', ...at });
    }
  };
  return {
    problem: (code, message, at) => {
      add(problems, code, message, at);
    },
    warn: (code, message, at) => {
      add(warnings, code, message, at);
    },
    problems,
    warnings,
  };
}

/** A stretch of the source as it may stand in a sentence: short, and without control characters. */
export function quoted(text: string): string {
  const shown = [...text].map((each) => ((each.codePointAt(0) ?? 0) < 32 ? '·' : each)).join('');
  return `“${shown.length > 40 ? `${shown.slice(0, 39)}…` : shown}”`;
}
