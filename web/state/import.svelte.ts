import { Abc, type Key, type Problem, type Score } from '#music';
import { createSong } from '#web/api/songs.ts';
import type { Trouble } from '#web/api/http.ts';
import { textOf, type GivenFile } from './dropped.ts';

const DRAFT = 'partbook.draft';

function draft(): string {
  try {
    return localStorage.getItem(DRAFT) ?? '';
  } catch {
    return '';
  }
}

/**
 * A song on its way in: the text as it stands, what is read from it, and what is doubted. Outlives the page, so
 * that leaving it and coming back loses nothing.
 */
class Importing {
  text = $state(draft());
  name = $state('');
  /** Which tune of a file that holds several. */
  tune = $state(0);
  /** The key that someone chose where the file leaves a doubt. */
  answer = $state.raw<Key | null>(null);
  busy = $state(false);
  trouble = $state.raw<Trouble | null>(null);
  /** Files that wait their turn. */
  waiting = $state.raw<readonly GivenFile[]>([]);

  readonly result = $derived(this.text.trim() === '' ? null : Abc.read(this.text));
  readonly tunes: readonly Score[] = $derived(this.result?.ok ? this.result.value : []);
  readonly score: Score | null = $derived(this.tunes[this.tune] ?? this.tunes[0] ?? null);
  readonly warnings: readonly Problem[] = $derived(this.result?.ok ? this.result.warnings : []);
  readonly problems: readonly Problem[] = $derived(
    this.result && !this.result.ok ? this.result.problems : [],
  );

  /** Takes files in: the first is shown, the others wait. */
  take(files: readonly GivenFile[]): void {
    const [first, ...others] = files;
    if (!first) return;
    this.waiting = others;
    this.#show(first);
  }

  write(text: string): void {
    this.text = text;
    this.trouble = null;
    if (this.tune >= this.tunes.length) this.tune = 0;
    this.#remember();
  }

  choose(tune: number): void {
    this.tune = tune;
    this.answer = null;
  }

  /** Stores the song that is shown. Returns its id, or null where it did not work (then `trouble` says why). */
  async keep(): Promise<string | null> {
    if (!this.score || this.busy) return null;
    this.busy = true;
    const answers = this.answer ? { key: this.answer } : {};
    const answer = await createSong({ format: 'abc', text: this.text, tune: this.tune, answers });
    this.busy = false;
    if (!answer.ok) {
      this.trouble = answer.trouble;
      return null;
    }
    const [next, ...others] = this.waiting;
    this.waiting = others;
    if (next) this.#show(next);
    else this.clear();
    return answer.value.id;
  }

  clear(): void {
    this.name = '';
    this.tune = 0;
    this.answer = null;
    this.write('');
  }

  #show(file: GivenFile): void {
    this.name = file.name;
    this.tune = 0;
    this.answer = null;
    this.write(textOf(file.bytes));
  }

  #remember(): void {
    try {
      if (this.text) localStorage.setItem(DRAFT, this.text);
      else localStorage.removeItem(DRAFT);
    } catch {
      // A device that keeps nothing loses the text only when the page is closed.
    }
  }
}

export const importing = new Importing();
