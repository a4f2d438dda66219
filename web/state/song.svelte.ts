import { ChordSymbol, Editing, Intervals, Keys, Pitches, Reduction, Transpose } from '#music';
import type { Chord, ChordAt, Key, Score, Ticks } from '#music';
import type { Arrangement, ArrangementChange } from '#server/contract/arrangements.ts';
import type { Song, SongChange } from '#server/contract/songs.ts';
import { changeArrangement, usualArrangement } from '#web/api/arrangements.ts';
import type { Trouble } from '#web/api/http.ts';
import { changeSong, findSong } from '#web/api/songs.ts';
import { isTempoOfFile } from './from-file.ts';
import { notices } from './notice.svelte.ts';
import { Saver } from './saver.svelte.ts';

/** A song as the team does it. Every change is on the screen at once, by `#music`; saving follows. */
export class SongPage {
  readonly id: string;
  song = $state.raw<Song | null>(null);
  arrangement = $state.raw<Arrangement | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  #arrangementSaver: Saver<Arrangement, ArrangementChange> | null = null;

  /** As written, with the answers and corrections worked in. */
  readonly score: Score | null = $derived(this.song?.score ?? null);
  readonly writtenKey: Key | null = $derived(this.score?.keys[0]?.key ?? null);
  /** The key it is done in. */
  readonly key: Key | null = $derived(this.arrangement?.key ?? this.writtenKey);
  readonly density = $derived(this.arrangement?.density ?? 'bar');
  readonly isFromFile = $derived(isTempoOfFile(this.song));
  /** In that key, with the chords that the voices make where nobody wrote any. */
  readonly shown: Score | null = $derived(
    this.score && this.key
      ? Reduction.withChords(Transpose.score(this.score, this.key), { density: this.density })
      : null,
  );
  readonly keys: readonly Key[] = $derived(this.key ? Keys.keysToOffer(this.key.mode) : []);

  constructor(id: string) {
    this.id = id;
  }

  get saver(): Saver<Arrangement, ArrangementChange> | null {
    return this.#arrangementSaver;
  }

  async load(): Promise<void> {
    const [song, arrangement] = await Promise.all([findSong(this.id), usualArrangement(this.id)]);
    this.trouble = !song.ok ? song.trouble : !arrangement.ok ? arrangement.trouble : null;
    if (song.ok) this.song = song.value;
    if (!arrangement.ok) return;
    const held = this.#arrangementSaver?.held;
    // What could not be saved yet stays, on the version it builds on.
    if (held) this.arrangement = { ...arrangement.value, ...held } as Arrangement;
    else this.#beginWith(arrangement.value);
  }

  /** The key `halfSteps` up (or down, negative), in the spelling that is usual. */
  keyFrom(halfSteps: number): Key | null {
    if (!this.key) return null;
    const { tonic, mode } = this.key;
    const at = this.keys.findIndex(
      (key) => Pitches.pitchClassOf(key.tonic) === Pitches.pitchClassOf(tonic),
    );
    const count = this.keys.length;
    return this.keys[(at + halfSteps + count) % count] ?? { tonic, mode };
  }

  step(halfSteps: number): void {
    const key = this.keyFrom(halfSteps);
    if (key) this.choose(key);
  }

  choose(key: Key): void {
    const before = this.key;
    if (!before || Keys.sameKey(before, key)) return;
    this.arrange({ key });
    notices.say(`Now in ${Keys.sayKey(key)}.`, () => this.choose(before), { owner: this });
  }

  arrange(change: ArrangementChange): void {
    if (!this.arrangement) return;
    this.arrangement = { ...this.arrangement, ...change } as Arrangement;
    void this.#arrangementSaver?.change(change);
  }

  /** The same with the way back at the foot of the page. */
  arrangeSaying(change: ArrangementChange, words: string): void {
    const before = this.arrangement;
    if (!before) return;
    const fields = Object.keys(change) as (keyof ArrangementChange)[];
    const back = Object.fromEntries(fields.map((field) => [field, before[field]]));
    this.arrange(change);
    const undo = (): void => {
      this.arrange(back as ArrangementChange);
      notices.say('Taken back.');
    };
    notices.say(words, undo, { owner: this });
  }

  /** The page is left: its way back goes with it. */
  leave(): void {
    notices.leave(this);
  }

  /** Answers the doubt about the key; null takes the answer back. The server carries the arrangement along. */
  async answer(key: Key | null): Promise<void> {
    const before = this.song?.answers.key ?? null;
    await this.#arrangementSaver?.retry();
    const done = await this.#change({ key }, true);
    if (!done || !key) return;
    notices.say(`${Keys.sayKey(key)} it is.`, () => this.answer(before), { owner: this });
  }

  /**
   * Corrects the chord at a place, given as it reads in the key on the screen. Returns what is wrong with the
   * symbol, or null.
   */
  async correct(at: Ticks, symbol: string | null): Promise<string | null> {
    let written: string | null = null;
    if (symbol !== null) {
      const read = ChordSymbol.read(symbol.trim());
      if (!read.ok) return read.problems[0]?.message ?? 'That is not a chord symbol.';
      written = ChordSymbol.write(this.#backToWritten(read.value));
    }
    const earlier = this.song?.corrections.find((each) => each.at === at);
    const done = await this.#change({ chord: { at, symbol: written } });
    if (done) {
      const words = symbol === null ? 'No chord there now.' : `${symbol.trim()} it is.`;
      const undo = async (): Promise<void> => {
        await this.#change({ chord: earlier ?? { at, remove: true } });
      };
      notices.say(words, undo, { owner: this });
    }
    return done ? null : (this.trouble?.message ?? null);
  }

  async takeBack(at: Ticks): Promise<void> {
    await this.#change({ chord: { at, remove: true } });
  }

  isCorrected(at: Ticks): boolean {
    return this.song?.corrections.some((each) => each.at === at) ?? false;
  }

  /** Chords that begin in a bar, in order, as they read in the key on the screen. */
  chordsOfBar(bar: number): ChordAt[] {
    const span = this.shown?.bars[bar];
    if (!this.shown || !span) return [];
    return this.shown.chords.filter(({ at }) => at >= span.at && at < span.at + span.length);
  }

  /** `bar 3, beat 2` */
  sayPlace(at: Ticks): string {
    return this.shown ? Editing.sayPlace(this.shown, at) : '';
  }

  #backToWritten(chord: Chord): Chord {
    if (!this.key || !this.writtenKey) return chord;
    const up = Intervals.intervalUp(this.key.tonic, this.writtenKey.tonic);
    return ChordSymbol.transpose(chord, up);
  }

  #beginWith(arrangement: Arrangement): void {
    this.arrangement = arrangement;
    const saver = new Saver(arrangement, {
      send: (version, change: ArrangementChange) => changeArrangement(this.id, version, change),
      onsaved: (saved) => {
        if (saver === this.#arrangementSaver) this.arrangement = saved;
      },
      onstale: async () => {
        if (saver !== this.#arrangementSaver) return;
        notices.say('Someone else changed this in between; here is how it stands now.');
        await this.load();
      },
    });
    this.#arrangementSaver = saver;
  }

  /** @param carries whether the arrangement changes with it */
  async #change(change: SongChange, carries = false): Promise<boolean> {
    if (!this.song) return false;
    const answer = await changeSong(this.id, this.song.version, change);
    if (!answer.ok) {
      this.trouble = answer.trouble;
      if (answer.trouble.status === 412) await this.load();
      return false;
    }
    const arrangement = carries ? await usualArrangement(this.id) : null;
    // Both at once: a key of the one with the tune of the other would be a song that nobody wrote.
    this.song = answer.value;
    this.trouble = arrangement?.ok === false ? arrangement.trouble : null;
    if (arrangement) this.#carry(arrangement.ok ? arrangement.value : null);
    return true;
  }

  /** @param carried the arrangement after the key of the song was answered; null: not known */
  #carry(carried: Arrangement | null): void {
    const { key: _gone, ...held } = this.#arrangementSaver?.held ?? {};
    if (carried) this.#beginWith(carried);
    else [this.arrangement, this.#arrangementSaver] = [null, null];
    if (Object.keys(held).length > 0) this.arrange(held);
  }
}
