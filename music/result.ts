/** One thing that is wrong with an input, said for a person, with its place where it has one. */
export interface Problem {
  /** Stable, kebab-case, for programs: `bar-too-short`. */
  readonly code: string;
  /** One sentence a volunteer understands. */
  readonly message: string;
  /** 1-based line of the input. */
  readonly line?: number;
  /** 1-based column (UTF-16 units) of that line. */
  readonly column?: number;
}

export interface Success<T> {
  readonly ok: true;
  readonly value: T;
  /** What was understood with a reservation, or left out: never silent. */
  readonly warnings: readonly Problem[];
}

export interface Failure {
  readonly ok: false;
  readonly problems: readonly Problem[];
}

/** Expected failures are values; bugs throw. */
export type Result<T> = Success<T> | Failure;

export function success<T>(value: T, warnings: readonly Problem[] = []): Success<T> {
  return { ok: true, value, warnings };
}

export function failure(...problems: readonly Problem[]): Failure {
  return { ok: false, problems };
}
