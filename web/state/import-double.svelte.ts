import { Keys, LibraryEntries, NO_DETAILS, type Key, type Score } from '#music';
import type { DoubleAnswer } from '#server/contract/library.ts';
import { findDouble } from '#web/api/library.ts';

/** A song of the book that the one on the page is like. */
export type Double = NonNullable<DoubleAnswer['double']>;

/** ms that a song stands still before the book is asked: somebody who types is not done. */
const STILL = 500;
/** What one question carries; longer songs are not asked about. */
const MOST_STEPS = 10_000;
const MOST_LINES = 2000;

/** `the same melody, in another key` */
export function sayLike({ because, key }: Double, own: Key): string {
  if (because !== 'melody') return `the same ${because}`;
  return Keys.writeKey(key) === Keys.writeKey(own)
    ? 'the same melody'
    : 'the same melody, in another key';
}

/** Whether the song on the page is in the book already. The book that does not answer says nothing. */
export class LikeInBook {
  /** What the book has like it, as far as it was asked. */
  found = $state.raw<Double | null>(null);
  /** What `found` is about. */
  #score: Score | null = null;
  #underway: Promise<void> = Promise.resolve();
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** The song on the page is this one now; the book is asked when it stands still. */
  look(score: Score | null): void {
    clearTimeout(this.#timer);
    if (score) this.#timer = setTimeout(() => void this.ask(score), STILL);
    else [this.#score, this.found] = [null, null];
  }

  /** Asks at once, where it was not asked. @returns what the book has like it */
  async ask(score: Score): Promise<Double | null> {
    clearTimeout(this.#timer);
    if (this.#score !== score) {
      this.#score = score;
      this.#underway = this.#find(score);
    }
    await this.#underway;
    return this.found;
  }

  async #find(score: Score): Promise<void> {
    const { title, firstLine, lines, sign } = LibraryEntries.of(score, NO_DETAILS);
    const isLong = lines.length > MOST_LINES || sign.steps.length > MOST_STEPS;
    const answer = isLong
      ? null
      : await findDouble({ title, firstLine, lines: [...lines], steps: [...sign.steps] });
    // Meanwhile another song may stand on the page.
    if (this.#score === score) this.found = answer?.ok ? answer.value.double : null;
  }
}
