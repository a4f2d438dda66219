import {
  HymnMeter,
  type Author,
  type Layer,
  type Rights,
  type Score,
  type SongDetails,
} from '#music';
import type { Song } from '#server/contract/songs.ts';
import { putDetails } from '#web/api/library.ts';
import { findSong } from '#web/api/songs.ts';
import {
  authorProblem,
  LAYERS,
  languageName,
  nobody,
  nothingSaid,
  placesIn,
  rightsProblem,
  themesIn,
} from './facts-typed.ts';
import { notices } from './notice.svelte.ts';
import { Saver } from './saver.svelte.ts';
import { linesOfVerse } from './words.ts';

/** The song whose facts they are: its page. */
export interface FactsPage {
  readonly id: string;
  song: Song | null;
  readonly score: Score | null;
}

interface Facts {
  readonly details: SongDetails;
  readonly privateNote: string;
}

/** A field that is held back because of what is typed in it. */
export interface Held<Value> {
  readonly value: Value;
  readonly problem: string;
}

/**
 * What the team knows of a song beside its music. Each change stands at once and saves itself; what cannot be kept yet
 * stays as it was typed, with a sentence.
 */
export class SongFacts {
  /** What was typed and cannot be kept yet. */
  scripture = $state.raw<Held<string> | null>(null);
  language = $state.raw<Held<string> | null>(null);
  /** People as they stand on the page; null: as they are kept. */
  #people = $state.raw<Held<readonly Author[]> | null>(null);
  #rights = $state.raw<Held<Rights> | null>(null);
  readonly #page: FactsPage;
  #saver: Saver<Song, Partial<Facts>> | null = null;

  constructor(page: FactsPage) {
    this.#page = page;
  }

  readonly details: SongDetails | null = $derived.by(() => this.#page.song?.details ?? null);
  readonly privateNote: string = $derived.by(() => this.#page.song?.privateNote ?? '');
  /** As the song itself has them, where nobody says otherwise. */
  readonly meter = $derived.by(() => (this.#page.score ? HymnMeter.of(this.#page.score) : null));
  readonly sourceMeter: string | null = $derived.by(
    () => this.#page.score?.facts.hymnMeter ?? null,
  );
  readonly firstLine: string = $derived.by(() => {
    const { score } = this.#page;
    return score && score.verses.length > 0 ? (linesOfVerse(score, 0)[0] ?? '') : '';
  });
  readonly people: readonly Author[] = $derived.by(
    () => this.#people?.value ?? this.details?.people ?? [],
  );
  readonly peopleProblem: string | null = $derived.by(() => this.#people?.problem || null);
  readonly rights: readonly Rights[] = $derived.by(() =>
    LAYERS.map(
      (layer) =>
        (this.#rights?.value.layer === layer && this.#rights.value) ||
        this.details?.rights.find((each) => each.layer === layer) ||
        nothingSaid(layer),
    ),
  );
  readonly rightsHeld: { readonly layer: Layer; readonly problem: string } | null = $derived.by(
    () => this.#rights && { layer: this.#rights.value.layer, problem: this.#rights.problem },
  );

  get saver(): Saver<Song, Partial<Facts>> | null {
    return this.#saver;
  }

  setFirstLine(text: string): void {
    this.#change({ firstLine: text.trim() || null }, 'The first line stands so.');
  }

  setMeter(text: string): void {
    this.#change({ hymnMeter: text.trim() || null }, 'The hymn meter stands so.');
  }

  setThemes(text: string): void {
    this.#change({ themes: themesIn(text) }, 'The themes stand so.');
  }

  setScripture(text: string): void {
    const { places, problem } = placesIn(text);
    this.scripture = problem === null ? null : { value: text, problem };
    if (problem === null) this.#change({ scripture: places }, 'The places of scripture stand so.');
  }

  setLanguage(text: string): void {
    const tag = text.trim();
    const isOne = tag === '' || languageName(tag) !== null;
    const problem = `“${tag}” is no language tag: en is English, de German, sw Swahili.`;
    this.language = isOne ? null : { value: text, problem };
    if (isOne) this.#change({ language: tag || null }, 'The language of the words stands so.');
  }

  setPrivateNote(text: string): void {
    this.#save({ privateNote: text }, 'The note stands so.');
  }

  addPerson(layer: Layer): void {
    this.#people = { value: [...this.people, nobody(layer)], problem: '' };
  }

  setPerson(at: number, change: Partial<Author>): void {
    const people = this.people.map((each, i) => (i === at ? { ...each, ...change } : each));
    this.#setPeople(people, `${people[at]?.name || 'That'} stands so.`);
  }

  removePerson(at: number): void {
    const gone = this.people[at];
    this.#setPeople(this.people.toSpliced(at, 1), gone?.name ? `${gone.name} is out of the list.` : null); // prettier-ignore
  }

  setRights(layer: Layer, change: Partial<Rights>): void {
    const now = { ...(this.rights.find((each) => each.layer === layer) ?? nothingSaid(layer)), ...change }; // prettier-ignore
    const problem = rightsProblem(now);
    this.#rights = problem === null ? null : { value: now, problem };
    if (problem !== null) return;
    const isNothing = JSON.stringify(now) === JSON.stringify(nothingSaid(layer));
    const others = this.details?.rights.filter((each) => each.layer !== layer) ?? [];
    const rights = LAYERS.flatMap((each) =>
      each === layer ? (isNothing ? [] : [now]) : others.filter((one) => one.layer === each),
    );
    this.#change({ rights }, `The rights of the ${layer} stand so.`);
  }

  #setPeople(people: readonly Author[], words: string | null): void {
    const problem = people.map(authorProblem).find((each) => each !== null) ?? null;
    this.#people = problem === null ? null : { value: people, problem };
    if (problem === null) this.#change({ people }, words);
  }

  #change(change: Partial<SongDetails>, words: string | null): void {
    if (!this.details) return;
    this.#save({ details: { ...this.details, ...change } }, words);
  }

  #save(change: Partial<Facts>, words: string | null): void {
    const { song } = this.#page;
    if (!song) return;
    const before: Facts = { details: song.details, privateNote: song.privateNote };
    if (JSON.stringify({ ...before, ...change }) === JSON.stringify(before)) return;
    this.#show(change);
    const undo = (): void => {
      this.#show(before);
      notices.say('Taken back.');
    };
    if (words !== null) notices.say(words, undo, { owner: this.#page });
  }

  /** On the page at once, and on its way to the server. */
  #show(change: Partial<Facts>): void {
    const { song } = this.#page;
    if (!song) return;
    this.#saver ??= this.#begin(song);
    this.#page.song = { ...song, ...change } as Song;
    void this.#saver.change(change);
  }

  #begin(stored: Song): Saver<Song, Partial<Facts>> {
    const { id } = this.#page;
    const saver: Saver<Song, Partial<Facts>> = new Saver(stored, {
      // The server takes both whole.
      send: (version, change) => {
        const now = this.#page.song ?? stored;
        const facts = { details: now.details, privateNote: now.privateNote, ...change };
        return putDetails(id, version, facts as Parameters<typeof putDetails>[2]);
      },
      fresh: () => findSong(id),
      onsaved: (song) => (this.#page.song = song),
      onmerged: (song, lost) => {
        this.#page.song = song;
        if (lost) notices.say('Someone else changed the same in between; here is how it stands now.'); // prettier-ignore
      },
      onstale: async () => {
        const song = await findSong(id);
        if (song.ok) this.#page.song = song.value;
      },
    });
    return saver;
  }
}
