import type { Page, PersonPages } from '#server/contract/pages.ts';
import type { PersonParts } from '#server/contract/person-parts.ts';
import type { Answer, Trouble } from '#web/api/http.ts';
import { findPages, findParts, keptParts, type PagesOf, type PagesWish } from '#web/api/pages.ts';
import { changedSince, type ChangedSheets } from './changed-since.ts';
import { engraveHere, type EngravesHere } from './engraved-here.ts';
import { notices } from './notice.svelte.ts';

/** The engraver on this device. */
export interface DeviceEngraver extends EngravesHere {
  /** Whether it can be asked now. */
  readonly isReady: boolean;
  /** Whether it may be fetched for later: not where a device saves data. */
  readonly isWanted: boolean;
  /** Fetches it at rest, and does then what else can wait. */
  start(also?: () => void): void;
  /** Fetches it at once. */
  startNow(): void;
}

const STAYS = 'Without a network the notes stay in the key and with the names that they came with.';
const REFUSED = new Set([401, 403, 404, 410]);

/** What of a wish decides the notes and not how they are laid out. */
function partsWish(wish: PagesWish) {
  const { width: _, text: __, verse: ___, ...parts } = wish;
  return parts;
}

/** Who shows the pages. */
export interface PagesShown {
  /** Index of the sheet that is open. */
  readonly open: number;
  /** It is engraved before the others. */
  onopen(index: number, page: Page): void;
  /** What is otherwise on the sheets than when this device had them last. */
  onchanged?(changes: ChangedSheets): void;
  /** What is shown may no longer be. */
  refuse(trouble: Trouble): void;
}

/**
 * Where a person's pages come from: the first time from the server, which is quick; from then on, and without a network,
 * engraved here from the parts, which are fetched at rest.
 */
export class PagesSource {
  readonly #of: PagesOf;
  readonly #member: string;
  readonly #engraver: DeviceEngraver | null;
  readonly #shown: PagesShown;
  readonly #refuse = (trouble: Trouble): void => this.#shown.refuse(trouble);
  /** Whether what was given is not what was asked for: another key, or other names, from before. */
  isBehind = false;
  #parts: { readonly of: string; readonly parts: PersonParts } | null = null;

  constructor(of: PagesOf, member: string, engraver: DeviceEngraver | null, shown: PagesShown) {
    this.#of = of;
    this.#member = member;
    this.#engraver = engraver;
    this.#shown = shown;
  }

  async find(wish: PagesWish, signal: AbortSignal): Promise<Answer<PersonPages>> {
    const engraver = this.#engraver;
    this.isBehind = false;
    const own = this.#parts?.of === JSON.stringify(partsWish(wish)) ? this.#parts.parts : null;
    if (own && engraver?.isReady) {
      const here = await this.#here(own, wish, engraver, signal);
      if (here) return here;
    }
    const onlate = this.#refuse;
    const answer = await findPages(this.#of, this.#member, wish, { signal, onlate });
    if (answer.ok) this.#atRest(wish);
    else if (REFUSED.has(answer.trouble.status)) this.#refuse(answer.trouble);
    if (answer.ok || answer.trouble.status !== 0 || !engraver) return answer;
    const parts = own ?? (await this.#keptParts(wish, signal));
    if (!parts) return answer;
    this.isBehind = !own;
    if (this.#parts && !own) notices.say(STAYS);
    engraver.startNow();
    return (await this.#here(parts, wish, engraver, signal)) ?? answer;
  }

  /** What is here is no longer trusted: the server is asked next. */
  renew(): void {
    this.#parts = null;
  }

  /** In another key where only those came: better than none. */
  async #keptParts(wish: PagesWish, signal: AbortSignal): Promise<PersonParts | null> {
    if (this.#parts) return this.#parts.parts;
    const answer = await findParts(this.#of, this.#member, partsWish(wish), { signal });
    return answer.ok ? answer.value : null;
  }

  async #here(
    parts: PersonParts,
    { width, text: textScale, verse }: PagesWish,
    engraver: DeviceEngraver,
    signal: AbortSignal,
  ): Promise<Answer<PersonPages> | null> {
    try {
      const { open } = this.#shown;
      const onopen = (page: Page) => this.#shown.onopen(open, page);
      const watched = { signal, open, onopen };
      const value = await engraveHere(parts, { width, textScale, verse }, engraver, watched);
      return { ok: true, value, version: null };
    } catch (error) {
      if (signal.aborted) throw error;
      return null;
    }
  }

  #atRest(wish: PagesWish): void {
    const { isWanted = false } = this.#engraver ?? {};
    const of = JSON.stringify(partsWish(wish));
    if (!isWanted || this.#parts?.of === of) return;
    this.#engraver?.start(() => void this.#fetch(wish, of));
  }

  async #fetch(wish: PagesWish, of: string): Promise<void> {
    const onlate = this.#refuse;
    const was = await keptParts(this.#of, this.#member, partsWish(wish));
    const answer = await findParts(this.#of, this.#member, partsWish(wish), { onlate });
    if (answer.ok && was) this.#shown.onchanged?.(changedSince(was, answer.value));
    if (answer.ok) this.#parts = { of, parts: answer.value };
    else if (REFUSED.has(answer.trouble.status)) this.#refuse(answer.trouble);
  }
}
