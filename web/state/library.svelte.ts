import type { LibrarySong, SearchAnswer } from '#server/contract/library.ts';
import type { Trouble } from '#web/api/http.ts';
import { searchSongs } from '#web/api/library.ts';
import { deleteSong, restoreSong } from '#web/api/songs.ts';
import {
  addressOf,
  clausesOf,
  NOTHING_ASKED,
  PAGE,
  questionOf,
  readQuestion,
  without,
  type Clause,
  type Field,
  type Question,
} from './library-question.ts';
import { notices } from './notice.svelte.ts';

/**
 * Milliseconds of quiet after a letter before the book is asked: with the answer, still about a tenth of a second, which
 * is felt as at once (Nielsen 1993, Usability Engineering, 5.5).
 */
const QUIET = 80;

/** Where one goes on to: the router, or what stands for it. */
export interface Goes {
  go(to: string, how?: 'push' | 'replace'): void;
}

/** Without this the question is answered by so many songs. */
export interface Looser {
  readonly clause: Clause;
  readonly count: number;
}

/** The book of songs, asked. The address bar carries the question; answers that a newer question overtakes are dropped. */
export class Library {
  question = $state.raw<Question>(NOTHING_ASKED);
  /** As it is typed; the question follows when the typing rests. */
  typed = $state('');
  /** How many songs of the answer stand before this page. */
  from = $state(0);
  /** The newest answer; stays while the next is waited for. null: none yet. */
  answer = $state.raw<SearchAnswer | null>(null);
  /** The words that the answer belongs to. */
  answered = $state('');
  trouble = $state.raw<Trouble | null>(null);
  waiting = $state(false);
  /** The field that cannot be asked as it stands, and why. */
  wrong = $state.raw<{ readonly field: Field; readonly message: string } | null>(null);
  looser = $state.raw<readonly Looser[]>([]);
  readonly clauses: readonly Clause[] = $derived(clausesOf(this.question));
  readonly songs: readonly LibrarySong[] = $derived(this.answer?.songs ?? []);
  readonly isAsked = $derived(this.clauses.length > 0 || this.question.q !== '');
  readonly #router: Goes;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #asking: AbortController | null = null;

  constructor(router: Goes) {
    this.#router = router;
  }

  /** Takes the question that the address asks, and asks it. */
  follow(query: URLSearchParams): void {
    const question = questionOf(query);
    if (question.q !== this.typed.trim()) this.typed = question.q;
    this.question = question;
    this.from = Math.max(0, Number.parseInt(query.get('from') ?? '0', 10) || 0);
    void this.load();
  }

  /** The words as they are typed. */
  type(words: string): void {
    this.typed = words;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#settle(), QUIET);
  }

  /** One more thing that is asked, or one less; goes into the history of the browser. */
  ask(change: Partial<Question>): void {
    clearTimeout(this.#timer);
    this.#go({ ...this.question, q: this.typed.trim(), ...change }, 'push');
  }

  loosen(clause: Clause): void {
    if (clause.fields.includes('q')) this.typed = '';
    this.ask(without(this.question, clause));
  }

  /** Pages of the index: `-1` back, `1` on. */
  turn(by: -1 | 1): void {
    this.#router.go(`/songs${addressOf(this.question, this.from + by * PAGE)}`);
  }

  leave(): void {
    clearTimeout(this.#timer);
    this.#asking?.abort();
    notices.leave(this);
  }

  async load(): Promise<void> {
    this.#asking?.abort();
    const read = readQuestion(this.question, this.from);
    this.wrong = read.ok ? null : read;
    if (!read.ok) return;
    const asking = (this.#asking = new AbortController());
    this.waiting = true;
    try {
      const answer = await searchSongs(read.query, asking.signal);
      if (asking.signal.aborted) return;
      this.waiting = false;
      this.trouble = answer.ok ? null : answer.trouble;
      if (!answer.ok) return;
      this.answer = answer.value;
      this.answered = this.question.q;
      this.looser = [];
      if (answer.value.count === 0 && this.isAsked) await this.#findLooser(asking.signal);
    } catch (error) {
      if (!asking.signal.aborted) throw error;
    }
  }

  /** Takes a song out of the book at once; the foot of the page offers the way back. */
  async takeOut(song: LibrarySong): Promise<void> {
    const before = this.answer;
    if (!before) return;
    const songs = before.songs.filter((each) => each.id !== song.id);
    this.answer = { songs, count: before.count - 1, all: before.all - 1 };
    const answer = await deleteSong(song.id, song.version);
    if (!answer.ok) {
      this.answer = before;
      notices.say(answer.trouble.message);
      return;
    }
    const undo = () => this.bringBack(song.id);
    notices.say(`${song.title} is out of the book.`, undo, { owner: this });
  }

  async bringBack(id: string): Promise<void> {
    const back = await restoreSong(id);
    if (!back.ok) notices.say(back.trouble.message);
    await this.load();
  }

  #settle(): void {
    const q = this.typed.trim();
    if (q !== this.question.q) this.#go({ ...this.question, q }, 'replace');
  }

  #go(question: Question, how: 'push' | 'replace'): void {
    this.#router.go(`/songs${addressOf(question)}`, how);
  }

  /** Of everything that is asked, what alone stands in the way. */
  async #findLooser(signal: AbortSignal): Promise<void> {
    const asked: Clause[] = [...this.clauses];
    const { q } = this.question;
    if (q !== '') asked.unshift({ words: q, fields: ['q'] });
    if (asked.length < 2) return;
    const found: Looser[] = [];
    for (const clause of asked) {
      const read = readQuestion(without(this.question, clause));
      if (!read.ok) continue;
      const answer = await searchSongs({ ...read.query, most: 1 }, signal);
      if (answer.ok && answer.value.count > 0) found.push({ clause, count: answer.value.count });
    }
    if (!signal.aborted) this.looser = found;
  }
}
