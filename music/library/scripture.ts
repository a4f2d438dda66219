import { failure, type Result } from '../result.ts';

/** `Psalm 23:1–6`. */
export interface Passage {
  /** English name: `Psalms`, `1 Corinthians`. */
  readonly book: string;
  readonly chapter: number | null;
  readonly from: number | null;
  readonly to: number | null;
}

/** A reference as people write it; a book or chapter that does not exist is a problem with what there is. */
export function read(text: string): Result<Passage> {
  return failure({ code: 'no-such-book', message: `“${text}” is not read yet.` });
}
