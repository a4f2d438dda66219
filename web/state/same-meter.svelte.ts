import type { SameMeterAnswer } from '#server/contract/library.ts';
import type { Trouble } from '#web/api/http.ts';
import { songsOfSameMeter } from '#web/api/library.ts';

/** Other songs whose tunes may carry the same words. */
export class SameMeter {
  /** null: not there yet. */
  answer = $state.raw<SameMeterAnswer | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  readonly #id: string;

  constructor(id: string) {
    this.#id = id;
  }

  async load(): Promise<void> {
    const answer = await songsOfSameMeter(this.#id);
    this.trouble = answer.ok ? null : answer.trouble;
    if (answer.ok) this.answer = answer.value;
  }
}
