import {
  HymnMeter,
  NO_DETAILS,
  type Author,
  type Layer,
  type Rights,
  type Score,
  type SongDetails,
} from '#music';
import type { Song } from '#server/contract/songs.ts';
import { putDetails } from '#web/api/library.ts';
import type { Answer } from '#web/api/http.ts';
import { changeSong, findSong } from '#web/api/songs.ts';
import {
  authorProblem,
  LAYERS,
  languageName,
  nobody,
  nothingSaid,
  placesIn,
  plain,
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

interface Names {
  readonly title: string;
  /** The name of the tune; null: it has none. */
  readonly tune: string | null;
}

interface Facts extends Names {
  readonly details: SongDetails;
  readonly privateNote: string;
}

/** A song with what it and its tune are called, which stand in its score. */
type NamedSong = Song & Names;

const named = (song: Song): NamedSong => {
  const { title, tune } = song.score.facts;
  return { ...song, title, tune };
};

const answered = (answer: Answer<Song>): Answer<NamedSong> =>
  answer.ok ? { ...answer, value: named(answer.value) } : answer;

/** The song as a page shows it: its names in its score. */
function shown({ title, tune, ...song }: NamedSong): Song {
  const { score } = song;
  return { ...song, score: { ...score, facts: { ...score.facts, title, tune } } };
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
  titleHeld = $state.raw<Held<string> | null>(null);
  /** People as they stand on the page; null: as they are kept. */
  #people = $state.raw<Held<readonly Author[]> | null>(null);
  #rights = $state.raw<Held<Rights> | null>(null);
  readonly #page: FactsPage;
  #saver: Saver<NamedSong, Partial<Facts>> | null = null;

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

  get saver(): Saver<NamedSong, Partial<Facts>> | null {
    return this.#saver;
  }

  readonly title: string = $derived.by(
    () => this.titleHeld?.value ?? this.#page.song?.score.facts.title ?? '',
  );
  readonly tune: string = $derived.by(() => this.#page.song?.score.facts.tune ?? '');

  setTitle(text: string): void {
    const title = plain(text);
    this.titleHeld = title === '' ? { value: text, problem: 'A song needs a title.' } : null;
    if (title !== '') this.#save({ title }, 'The title stands so.');
  }

  setTune(text: string): void {
    this.#save({ tune: plain(text) || null }, 'The name of the tune stands so.');
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
    const { title, tune, details, privateNote } = named(song);
    const before: Facts = { title, tune, details, privateNote };
    if (JSON.stringify({ ...before, ...change }) === JSON.stringify(before)) return;
    this.#show(change);
    // Only what was changed goes back: what was done to the rest since then stays.
    const fields = Object.keys(change) as (keyof Facts)[];
    const back = Object.fromEntries(fields.map((field) => [field, before[field]]));
    const undo = (): void => {
      this.#show(back);
      notices.say('Taken back.');
    };
    if (words !== null) notices.say(words, undo, { owner: this.#page });
  }

  /** On the page at once, and on its way to the server. */
  #show(change: Partial<Facts>): void {
    const { song } = this.#page;
    if (!song) return;
    this.#saver ??= this.#begin(song);
    this.#page.song = shown({ ...named(song), ...change } as NamedSong);
    void this.#saver.change(change);
  }

  #begin(stored: Song): Saver<NamedSong, Partial<Facts>> {
    const { id } = this.#page;
    const saver: Saver<NamedSong, Partial<Facts>> = new Saver(named(stored), {
      send: (version, change) => this.#send(version, change),
      fresh: async () => answered(await findSong(id)),
      onsaved: (song) => (this.#page.song = shown(song)),
      onmerged: (song, lost) => {
        this.#page.song = shown(song);
        if (lost) notices.say('Someone else changed the same in between; here is how it stands now.'); // prettier-ignore
      },
      onstale: async () => {
        const song = await findSong(id);
        if (song.ok) this.#page.song = song.value;
      },
    });
    return saver;
  }

  /** Names go to the score, the rest to the details, which the server takes whole. */
  async #send(
    version: number,
    { title, tune, details, privateNote }: Partial<Facts>,
  ): Promise<Answer<NamedSong>> {
    const { id } = this.#page;
    let now = version;
    if (title !== undefined || tune !== undefined) {
      const names = { ...(title !== undefined && { title }), ...(tune !== undefined && { tune }) };
      const answer = await changeSong(id, version, names);
      if (!answer.ok || (details ?? privateNote) === undefined) return answered(answer);
      now = answer.value.version;
    }
    const { song } = this.#page;
    const facts = {
      details: details ?? song?.details ?? NO_DETAILS,
      privateNote: privateNote ?? song?.privateNote ?? '',
    };
    return answered(await putDetails(id, now, facts as Parameters<typeof putDetails>[2]));
  }
}
