import { Pitches, Tunes, type PitchName } from '#music';
import type { TuneAnswer } from '#server/contract/library.ts';
import type { Trouble } from '#web/api/http.ts';
import { songsByNotes } from '#web/api/library.ts';
import type { Goes } from './library.svelte.ts';
import { notices } from './notice.svelte.ts';

/** More first notes than that tell no tune better. */
const MOST = 40;
const QUIET = 250;
/** Of so many notes asked, one may be wrong before a tune is only something like it (our own choice). */
const NOTES_TO_A_SLIP = 7;

/** A key of a keyboard by its usual name. @param midi C4 = 60 */
export function nameOf(midi: number): PitchName {
  return Pitches.keyNameOf(midi);
}

/** A tune that is looked for by its first notes, in any key. The address carries them. */
export class ByTune {
  notes = $state.raw<readonly PitchName[]>([]);
  /** null: nothing was asked yet. */
  answer = $state.raw<TuneAnswer | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  waiting = $state(false);
  /** How many more notes are needed before the book can be asked. */
  readonly lacking = $derived(Math.max(0, Tunes.FEWEST_NOTES - this.notes.length));
  /** The tunes that are meant, if one is; the others are something like it. */
  readonly near = $derived(
    (this.answer?.songs ?? []).filter(
      ({ distance }) => distance <= Math.max(0.5, this.notes.length / NOTES_TO_A_SLIP),
    ),
  );
  readonly others = $derived(
    (this.answer?.songs ?? []).filter((each) => !this.near.includes(each)),
  );
  readonly #router: Goes;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #asking: AbortController | null = null;

  constructor(router: Goes) {
    this.#router = router;
  }

  /** Takes the notes that the address names. */
  follow(query: URLSearchParams): void {
    const notes = (query.get('notes') ?? '').split(',').filter((each) => Pitches.parsePitch(each));
    if (notes.join() === this.notes.join() && this.answer) return;
    this.notes = notes.slice(0, MOST);
    this.#askSoon(0);
  }

  press(midi: number): void {
    this.#set([...this.notes, nameOf(midi)]);
  }

  /** What was sung so far, in place of what stood there. */
  sing(midis: readonly number[]): void {
    const notes = midis.map(nameOf);
    if (notes.join() !== this.notes.join()) this.#set(notes);
  }

  takeBack(): void {
    this.#set(this.notes.slice(0, -1));
  }

  clear(): void {
    const before = this.notes;
    if (before.length === 0) return;
    this.#set([]);
    notices.say('The notes are gone.', () => this.#set(before), { owner: this });
  }

  leave(): void {
    clearTimeout(this.#timer);
    this.#asking?.abort();
    notices.leave(this);
  }

  async load(): Promise<void> {
    this.#asking?.abort();
    if (this.lacking > 0) {
      [this.answer, this.waiting] = [null, false];
      return;
    }
    const asking = (this.#asking = new AbortController());
    this.waiting = true;
    try {
      const answer = await songsByNotes(this.notes, asking.signal);
      this.waiting = false;
      this.trouble = answer.ok ? null : answer.trouble;
      if (answer.ok) this.answer = answer.value;
    } catch (error) {
      if (!asking.signal.aborted) throw error;
    }
  }

  #set(notes: readonly PitchName[]): void {
    this.notes = notes.slice(0, MOST);
    this.#askSoon(QUIET);
  }

  #askSoon(quiet: number): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      const query =
        this.notes.length > 0 ? `?notes=${encodeURIComponent(this.notes.join(','))}` : '';
      if (quiet > 0) this.#router.go(`/songs/by-tune${query}`, 'replace');
      void this.load();
    }, quiet);
  }
}
