import { Editing, type Edit, type PitchName, type Score, type Ticks } from '#music';
import { chosen, conflictOf, type Choice, type Conflict } from './edit-conflict.ts';
import { withAnswers } from './edit-differences.ts';
import { atChord, doingChords } from './edit-chord-doing.ts';
import { doing } from './edit-doing.ts';
import type { EditDraft } from './edit-draft.ts';
import {
  extended,
  NOTHING_DONE,
  redone,
  revived,
  undone,
  type History,
  type Step,
} from './edit-history.ts';
import { Keeping } from './edit-keeping.svelte.ts';
import type { EditCommand, Panel } from './edit-keys.ts';
import { QUARTER_NOTE } from './edit-length.ts';
import { settled, within, type Hand } from './edit-place.ts';
import type { Playback } from './edit-playback.svelte.ts';
import type { Take } from './edit-take.svelte.ts';
import { sayUnlaid } from './edit-unlaid.ts';
import { blankSong } from './edit-words.ts';

export interface EditorOptions {
  /** Lets notes sound. */
  readonly sound?: (pitches: readonly PitchName[]) => void;
  /** A new song has its place on the server now. */
  readonly oncreated?: (id: string) => void;
}

interface EditOptions {
  /** What it is, for undo; missing: as the music says it. */
  readonly words?: string;
  /** Where one is afterwards; missing: where one was. */
  readonly hand?: Hand;
  /** Steps of one kind that follow each other without a pause are taken back together. */
  readonly merge?: string;
}

/** Pause in typing after which undo has another step, ms (ours). */
const PAUSE = 1500;
const NOT_SAVED = 'Taken up where you left it; not saved yet.';
const BEGINNING: Hand = { voice: '', at: 0, length: QUARTER_NOTE };

/** A song while it is written: every edit is on the screen at once, kept on this device, and saved by itself. */
export class SongEditor {
  readonly keeping: Keeping;
  /** Where the hand was put last: a chord may stand there, a note only where one can begin. */
  #place = $state.raw<Hand>(BEGINNING);
  score = $state.raw<Score | null>(null);
  history = $state.raw<History>(NOTHING_DONE);
  /** Number of the verse that stands under the notes. */
  verse = $state(1);
  panel = $state<Panel>('notes');
  /** All voices stand on the page, or the tune and the one that is written. */
  allVoices = $state(false);
  /** The take that is being played, or was. */
  take = $state.raw<Take | null>(null);
  /** The song as it sounds; null: nobody can hear it yet. */
  playback = $state.raw<Playback | null>(null);
  /** What is typed and could not be laid into the song yet, by field. */
  typed = $state.raw<Readonly<Record<string, string>>>({});
  /** A chord is written where the cursor stands. */
  chordOpen = $state(false);
  /** The letter with which it was begun. */
  chordBegun = $state('');
  /** What was done last, or why it could not be. */
  said = $state('');
  refused = $state(false);
  conflict = $state.raw<Conflict | null>(null);
  readonly #options: EditorOptions;
  #typedAt = -Infinity;
  #bursts = 0;

  /** Chords are written: the cursor goes from beat to beat. */
  readonly atChords: boolean = $derived(this.panel === 'chords' || this.chordOpen);
  readonly hand: Hand = $derived(
    this.score ? (this.atChords ? atChord : settled)(this.score, this.#place) : this.#place,
  );
  readonly section = $derived(
    this.score?.sections.findLast(({ from }) => from <= this.hand.at) ?? null,
  );
  /** Ids of the voices on the page. */
  readonly shownVoices: readonly string[] = $derived(
    (this.score?.voices ?? []).flatMap(({ id }) =>
      this.allVoices || id === this.score?.melody || id === this.hand.voice ? [id] : [],
    ),
  );

  constructor(id: string | null, options: EditorOptions = {}) {
    this.#options = options;
    this.keeping = new Keeping(id, {
      now: () => {
        const { score, hand, history, typed } = this;
        return score && { score, hand, history, typed };
      },
      onopened: (score) => this.#open(score ?? blankSong()),
      ontaken: (draft) => this.#takeUp(draft),
      onanswered: (saved) => this.#answer(saved),
      onconflict: (saved, base) => {
        const { score, history } = this;
        if (score) this.conflict = conflictOf({ score, history }, saved, base);
      },
      oncreated: (created) => this.#options.oncreated?.(created),
      onsaved: () => {
        if (this.said === NOT_SAVED) this.#say('Taken up where you left it.');
      },
    });
  }

  load(): Promise<void> {
    return this.keeping.open();
  }

  leave(): void {
    this.keeping.leave();
  }

  /** Whatever a key or a button asks for, but for what opens something. */
  do(command: EditCommand): void {
    if (!this.score || this.conflict) return;
    if (command.to === 'undo') return this.undo();
    if (command.to === 'redo') return this.redo();
    if (command.to === 'listen') return this.playback?.toggle();
    if (command.to === 'show') return void (this.panel = command.panel);
    const does = this.atChords ? doingChords : doing;
    const { edits, hand, words, sounds } = does(this.score, this.hand, command);
    if (edits.length > 0) {
      if (!this.edit(edits, { hand })) return;
    } else {
      this.#place = within(this.score, hand);
      this.#say(words);
    }
    if (sounds.length > 0) this.#options.sound?.(sounds);
  }

  /** Does one thing, of one or several edits. Returns whether it was done; where not, nothing was changed. */
  edit(edits: readonly Edit[], { words, hand = this.hand, merge }: EditOptions = {}): boolean {
    const before = this.score;
    if (!before || this.conflict) return false;
    let next = before;
    const warnings: string[] = [];
    for (const edit of edits) {
      const done = Editing.apply(next, edit);
      if (!done.ok) {
        this.refuse(done.problems.map(({ message }) => message).join(' '));
        return false;
      }
      next = done.value;
      warnings.push(...done.warnings.map(({ message }) => message));
    }
    const said = words ?? edits.map((edit) => Editing.say(before, edit)).join('; ');
    this.#step(next, { words: said, by: { edits }, ...this.#burst(merge) }, hand);
    if (warnings.length > 0) this.said = `${said}. ${warnings.join(' ')}`;
    return true;
  }

  /** The whole song anew, as a text of words and chords has it. */
  rewrite(score: Score, words: string, merge: string): void {
    this.#step(score, { words, by: { score }, ...this.#burst(merge) }, this.hand);
  }

  /** Keeps what is typed in a field and is not in the song; null: it is. */
  type(field: string, text: string | null): void {
    if (text === null && this.typed[field] === undefined) return;
    const { [field]: _, ...others } = this.typed;
    this.typed = text === null ? others : { ...others, [field]: text };
    this.keeping.keep();
  }

  undo(): void {
    this.#travel(undone, 'Taken back', 'There is nothing to take back.');
  }

  redo(): void {
    this.#travel(redone, 'Done again', 'There is nothing to do again.');
  }

  moveTo(hand: Hand): void {
    if (this.score) this.#place = within(this.score, hand);
    this.#say('');
  }

  /** Whether it is saved, and what is only typed. */
  get savedWords(): string {
    const words = this.keeping.saving?.words ?? '';
    const unlaid = this.score && words === 'Saved' ? sayUnlaid(this.score, this.typed) : '';
    return unlaid === '' ? words : `${words}; ${unlaid}`;
  }

  /** Where the hand was put, also between the beginnings of notes. */
  get place(): Ticks {
    return this.#place.at;
  }

  /** The cursor goes along with what sounds. */
  follow = (at: Ticks): void => {
    this.#place = { ...this.#place, at };
  };

  /** Opens the field of the chord here, or of one that stands somewhere else. */
  openChord(begun = '', at = this.hand.at): void {
    this.playback?.stop();
    this.moveTo({ ...this.hand, at });
    [this.chordBegun, this.chordOpen] = [begun, true];
  }

  /** What stands in the way of something, said. */
  refuse(words: string): void {
    this.said = words;
    this.refused = true;
  }

  /** One of two states is taken, or both laid together; what is not taken stays in the undo. */
  choose(which: Choice): void {
    const { conflict, score } = this;
    if (!conflict || !score) return;
    this.conflict = null;
    this.keeping.rebase(conflict.saved);
    for (const { score: next, step } of chosen(conflict, score, which)) this.#put(next, step, this.hand); // prettier-ignore
    if (which === 'theirs') this.keeping.keep(true);
    else this.keeping.changed();
  }

  #open(score: Score): void {
    this.score = score;
    this.#place = { ...BEGINNING, voice: score.melody };
    this.verse = score.verses[0]?.number ?? 1;
  }

  #takeUp(draft: EditDraft): void {
    this.#open(draft.score);
    this.#place = within(draft.score, draft.hand);
    this.history = revived(draft.history, draft.score);
    this.typed = draft.typed;
    if (!draft.saved) this.#say(NOT_SAVED);
  }

  #answer(saved: Score): void {
    if (!this.score) return;
    const [said, refused] = [this.said, this.refused];
    const answered = withAnswers(this.score, saved);
    this.#put(answered, { words: 'answers from the page of the song', by: { score: answered } }, this.hand); // prettier-ignore
    [this.said, this.refused] = [said, refused];
  }

  /** Typing is one step until there is a pause. */
  #burst(merge: string | undefined): { merge?: string } {
    if (merge === undefined) return {};
    const now = performance.now();
    if (now - this.#typedAt > PAUSE) this.#bursts += 1;
    this.#typedAt = now;
    return { merge: `${merge} ${this.#bursts}` };
  }

  #say(words: string): void {
    this.said = words;
    this.refused = false;
  }

  #step(next: Score, step: Step, hand: Hand): void {
    this.#put(next, step, hand);
    this.keeping.changed();
  }

  #put(next: Score, step: Step, hand: Hand): void {
    if (!this.score) return;
    this.history = extended(this.history, this.score, step);
    this.score = next;
    this.#place = within(next, hand);
    this.#say(step.words);
  }

  #travel(way: typeof undone, done: string, nothing: string): void {
    if (!this.score || this.conflict) return;
    const to = way(this.history, this.score);
    if (!to) return this.#say(nothing);
    [this.history, this.score, this.typed] = [to.history, to.score, {}];
    this.#place = within(to.score, this.hand);
    this.#say(`${done}: ${to.words}.`);
    this.keeping.changed();
  }
}
