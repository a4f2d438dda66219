import type { Score } from '#music';
import type { Song } from '#server/contract/songs.ts';
import type { Answer, Trouble } from '#web/api/http.ts';
import { createSong, findSong, putScore } from '#web/api/songs.ts';
import { alike } from './edit-differences.ts';
import { DraftSlot, type EditDraft } from './edit-draft.ts';
import { kept, type History } from './edit-history.ts';
import type { Hand } from './edit-place.ts';
import { named } from './edit-words.ts';
import { EditSaving } from './edit-saving.svelte.ts';

/** What is kept of a song while it is written. */
export interface WrittenSong {
  readonly score: Score;
  readonly hand: Hand;
  readonly history: History;
  /** What is typed and could not be laid into the song yet, by field. */
  readonly typed: Readonly<Record<string, string>>;
}

export interface KeepingOptions {
  /** As it stands; null: nothing is open yet. */
  readonly now: () => WrittenSong | null;
  /** The song as the server has it; null: a new one. */
  readonly onopened: (score: Score | null) => void;
  /** What this device kept is taken up. */
  readonly ontaken: (draft: EditDraft) => void;
  /** Someone else saved another song meanwhile; null: and it could not be fetched. */
  readonly onconflict: (saved: Song | null) => void;
  /** A new song has its place on the server now. */
  readonly oncreated: (id: string) => void;
}

/** Keeps a song that is written: on this device at every edit, on the server a moment later. */
export class Keeping {
  /** null: a new song that the server does not have yet. */
  id = $state<string | null>(null);
  /** Why the song could not be opened. */
  trouble = $state.raw<Trouble | null>(null);
  saving = $state.raw<EditSaving | null>(null);
  /** Whether this device keeps a draft. */
  keeps = $state(true);
  readonly #options: KeepingOptions;
  #slot: DraftSlot | null = null;
  #isSaved = true;
  #left = false;

  constructor(id: string | null, options: KeepingOptions) {
    this.id = id;
    this.#options = options;
  }

  async open(): Promise<void> {
    this.trouble = null;
    const [{ slot, draft }, answer] = await Promise.all([
      this.#slot ? { slot: this.#slot, draft: null } : DraftSlot.open(this.id ?? 'new'),
      this.id === null ? null : findSong(this.id),
    ]);
    if (this.#left) return slot.release();
    [this.#slot, this.keeps] = [slot, slot.keeps];
    const stored = answer?.ok ? answer.value : null;
    // It was saved with the last breath of the page before.
    if (draft && stored && !draft.saved && alike(stored.score, named(draft.score)))
      this.#takeUp({ ...draft, saved: true, version: stored.version });
    else if (draft && (!draft.saved || draft.version === stored?.version)) this.#takeUp(draft);
    else if (answer && !answer.ok) this.trouble = answer.trouble;
    else this.#begin(stored);
  }

  /** The song is another one now. */
  changed(): void {
    this.keep(false);
    const now = this.#options.now();
    if (now) this.saving?.soon(now.score);
  }

  /** On this device, at every edit: a tab that is killed loses nothing. */
  keep(saved = this.#isSaved, version = this.saving?.version): void {
    const now = this.#options.now();
    const slot = this.#slot;
    if (!now || version === undefined || !slot) return;
    this.#isSaved = saved;
    const draft = { ...now, version, saved, history: kept(now.history, now.score) };
    void slot.write(draft).then(() => (this.keeps = slot.keeps));
  }

  /** One of two states was chosen; the next saving builds on this version. */
  rebase(version: number): void {
    this.saving?.rebase(version);
  }

  /** The page is left: what waits is sent. */
  leave(): void {
    this.#left = true;
    this.saving?.leave();
    this.#slot?.release();
  }

  #begin(stored: Song | null): void {
    this.#saveFrom(stored?.version ?? 0);
    this.#options.onopened(stored?.score ?? null);
  }

  #takeUp(draft: EditDraft): void {
    this.#isSaved = draft.saved;
    this.#saveFrom(draft.version);
    this.#options.ontaken(draft);
    if (!draft.saved) this.saving?.soon(draft.score);
  }

  #saveFrom(version: number): void {
    this.saving = new EditSaving(version, {
      send: (on, score) =>
        this.id === null ? this.#create(score) : putScore(this.id, on, named(score)),
      onsaved: () => this.keep(true),
      onstale: () => this.#compare(),
    });
  }

  async #create(score: Score): Promise<Answer<Song>> {
    const answer = await createSong({ format: 'written', score: named(score) });
    if (!answer.ok) return answer;
    const before = this.#slot;
    this.id = answer.value.id;
    this.#slot = (await DraftSlot.open(answer.value.id)).slot;
    // What was written while it was on its way has the new place before the old one is given up.
    this.keep(false, answer.value.version);
    await before?.clear();
    before?.release();
    if (this.#left) this.#slot.release();
    else this.#options.oncreated(answer.value.id);
    return answer;
  }

  /** Someone else saved meanwhile: both are shown, unless they are the same song. */
  async #compare(): Promise<void> {
    const answer = await findSong(this.id ?? '');
    const now = this.#options.now();
    if (!answer.ok || !now) return this.#options.onconflict(null);
    if (!alike(answer.value.score, named(now.score))) return this.#options.onconflict(answer.value);
    this.rebase(answer.value.version);
    this.keep(true);
  }
}
