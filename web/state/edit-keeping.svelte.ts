import type { Score } from '#music';
import type { Song } from '#server/contract/songs.ts';
import type { Answer, Trouble } from '#web/api/http.ts';
import { createSong, findSong, putScore } from '#web/api/songs.ts';
import { alike, sameMusic, withAnswers } from './edit-differences.ts';
import { DraftSlot, newDraftName, type EditDraft } from './edit-draft.ts';
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
  /** The same music was saved meanwhile, with what was asked about its chords and keys answered. */
  readonly onanswered: (saved: Score) => void;
  /** Someone else saved other music meanwhile. @param base what both began from; null: not known */
  readonly onconflict: (saved: Song, base: Score | null) => void;
  /** A new song has its place on the server now. */
  readonly oncreated: (id: string) => void;
  /** The server has everything. */
  readonly onsaved: () => void;
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
  /** The last state that is known to be on the server and in what is written here. */
  #base: Score | null = null;
  /** What someone else saved, until one is chosen. */
  #other: Song | null = null;
  /** As which the server knows a new song until it is told its id: sent twice, it is one song. */
  #draftName = newDraftName();

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
    if (this.#left) return void slot.release();
    [this.#slot, this.keeps] = [slot, slot.keeps];
    const stored = answer?.ok ? answer.value : null;
    // Saved with the last breath of the page before, or told apart since by nothing that is music.
    if (draft && stored && alike(stored.score, named(draft.score)))
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
    const draft: EditDraft = {
      ...now,
      version,
      saved,
      history: kept(now.history, now.score),
      written: Date.now(),
      ...(!saved && this.#base && { base: this.#base }),
      ...(this.id === null && { name: this.#draftName }),
    };
    void slot.write(draft).then(() => (this.keeps = slot.keeps));
  }

  /** One of two states was chosen; the next saving builds on this one. */
  rebase({ version, score }: Song): void {
    [this.#base, this.#other] = [score, null];
    this.saving?.rebase(version);
  }

  /** The page is left: what waits is sent. */
  leave(): void {
    this.#left = true;
    this.saving?.leave();
    void this.#slot?.release();
  }

  #begin(stored: Song | null): void {
    this.#base = stored?.score ?? null;
    this.#saveFrom(stored?.version ?? 0);
    this.#options.onopened(stored?.score ?? null);
  }

  #takeUp(draft: EditDraft): void {
    this.#isSaved = draft.saved;
    this.#base = draft.saved ? named(draft.score) : (draft.base ?? null);
    if (draft.name !== undefined) this.#draftName = draft.name;
    this.#saveFrom(draft.version);
    this.#options.ontaken(draft);
    if (!draft.saved) this.saving?.soon(draft.score);
  }

  #saveFrom(version: number): void {
    this.saving = new EditSaving(version, {
      send: (on, score) => this.#send(on, named(score)),
      onsaved: () => {
        this.keep(true);
        this.#options.onsaved();
      },
      onstale: () => {
        if (this.#other) this.#options.onconflict(this.#other, this.#base);
      },
    });
  }

  async #send(on: number, score: Score): Promise<Answer<Song>> {
    const answer =
      this.id === null ? await this.#create(score) : await this.#put(this.id, on, score);
    if (answer.ok) this.#base = answer.value.score;
    return answer;
  }

  /** Puts it on the version that is known here, or on a later one of the same music. */
  async #put(id: string, on: number, score: Score): Promise<Answer<Song>> {
    const answer = await putScore(id, on, score);
    if (answer.ok || answer.trouble.status !== 412) return answer;
    const found = await findSong(id);
    if (!found.ok) return found;
    const { version, score: stored } = found.value;
    if (alike(stored, score)) return found;
    if (version !== on && this.#base && sameMusic(stored, this.#base)) {
      if (!alike(stored, this.#base)) this.#options.onanswered(stored);
      this.#base = stored;
      return this.#put(id, version, withAnswers(score, stored));
    }
    this.#other = found.value;
    return answer;
  }

  async #create(score: Score): Promise<Answer<Song>> {
    const answer = await createSong({ format: 'written', score, draft: this.#draftName });
    if (!answer.ok) return answer;
    const { id, version, score: stored } = answer.value;
    const before = this.#slot;
    this.id = id;
    this.#base = version === 1 ? stored : null;
    this.#slot = (await DraftSlot.open(id)).slot;
    // What was written while it was on its way has the new place before the old one is given up.
    this.keep(false, version);
    await before?.clear();
    void before?.release();
    if (this.#left) void this.#slot.release();
    else this.#options.oncreated(id);
    // It was sent before and the answer never came: the server has it as it was then.
    return alike(stored, score) ? answer : this.#put(id, 1, score);
  }
}
