import type { Known } from '#server/contract/members.ts';
import type { Trouble } from '#web/api/http.ts';
import { findKnown } from '#web/api/members.ts';

/** What somebody has met in the services that are over. */
export class KnownBy {
  readonly id: string;
  /** null: not there yet. */
  found = $state.raw<Known | null>(null);
  trouble = $state.raw<Trouble | null>(null);

  constructor(id: string) {
    this.id = id;
  }

  async load(): Promise<void> {
    this.trouble = null;
    const answer = await findKnown(this.id);
    if (answer.ok) this.found = answer.value;
    else this.trouble = answer.trouble;
  }
}
