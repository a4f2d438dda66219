import { LibraryEntries, SearchWords, type Key, type LibraryEntry } from '#music';
import type { SongVersions, SungDay } from '../../store/library.store.ts';
import type { TeamStore } from '../../store/store.ts';
import { answeredScore } from '../answered-score.ts';
import { headsOf, type Heads } from './nearness.ts';
import { WordIndex } from './word-index.ts';

/** A song as the book knows it. */
export interface BookSong {
  readonly id: string;
  readonly version: number;
  readonly entry: LibraryEntry;
  /** The usual key. */
  readonly key: Key;
}

/** A song in its place among the others. */
export interface FiledSong extends BookSong {
  /** What it stands under in the order of titles: its words folded, numbers by what they count. */
  readonly filed: string;
  readonly heads: Heads;
}

/** Digits enough for every number in a title. */
const DIGITS = 9;

function filedUnder(title: string): string {
  const words = SearchWords.wordsOf(title).join(' ');
  return words.replaceAll(/\d+/g, (digits) => digits.padStart(DIGITS, '0'));
}

/** Word by word: `O God` before `Oath`. Each song has a place of its own. */
export function byFiling(a: FiledSong, b: FiledSong): number {
  if (a.filed !== b.filed) return a.filed < b.filed ? -1 : 1;
  return a.id < b.id ? -1 : 1;
}

/** So many songs are read and drawn from before others get their turn: a hymn takes some milliseconds. */
const AT_ONCE = 4;
const isSameKey = (one: Key, other: Key): boolean =>
  one.tonic === other.tonic && one.mode === other.mode;
const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/**
 * Every song of one team, kept in memory to be searched. It is brought up to date by what changed, song by song, when the
 * team's stamp has moved; nothing is made anew for one change.
 */
export class Book {
  readonly #words = new WordIndex();
  readonly #songs = new Map<string, FiledSong>();
  #sung = new Map<string, SungDay[]>();
  #stamp: number | null = null;
  #underway: Promise<void> | null = null;

  /** A book of songs that are drawn from already. */
  static of(songs: readonly BookSong[]): Book {
    const book = new Book();
    for (const song of songs) book.#put(song);
    return book;
  }

  #put(song: BookSong): void {
    const { entry } = song;
    const filed = { ...song, filed: filedUnder(entry.title), heads: headsOf(entry) };
    this.#songs.set(song.id, filed);
    this.#words.put(song.id, song.entry);
  }

  get words(): WordIndex {
    return this.#words;
  }

  get songs(): ReadonlyMap<string, FiledSong> {
    return this.#songs;
  }

  /** The services whose order has the song, over or to come. */
  sungDays(id: string): readonly SungDay[] {
    return this.#sung.get(id) ?? [];
  }

  /** Brings the book up to what is stored now. Those who ask at the same moment wait for the same work. */
  async update(store: TeamStore): Promise<void> {
    const stamp = await store.everyRequest.stamp();
    while (this.#underway) await this.#underway;
    if (stamp === this.#stamp) return;
    this.#underway = this.#catchUp(store, stamp).finally(() => (this.#underway = null));
    await this.#underway;
  }

  async #catchUp(store: TeamStore, stamp: number | null): Promise<void> {
    const versions = await store.library.versions();
    const there = new Set(versions.map(({ id }) => id));
    for (const id of this.#songs.keys()) {
      if (there.has(id)) continue;
      this.#songs.delete(id);
      this.#words.drop(id);
    }
    const changed = versions.filter(({ id, version }) => this.#songs.get(id)?.version !== version);
    for (let from = 0; from < changed.length; from += AT_ONCE) {
      await this.#take(store, changed.slice(from, from + AT_ONCE));
      await turn();
    }
    for (const { id, key } of versions) {
      const song = this.#songs.get(id);
      if (song && !isSameKey(song.key, key)) this.#songs.set(id, { ...song, key });
    }
    const sung = new Map<string, SungDay[]>();
    for (const day of await store.library.sung()) {
      const days = sung.get(day.song);
      if (days) days.push(day);
      else sung.set(day.song, [day]);
    }
    this.#sung = sung;
    // What was written since the stamp was read moved it on, and is caught up with by whoever asks next.
    this.#stamp = stamp;
  }

  async #take(store: TeamStore, versions: readonly SongVersions[]): Promise<void> {
    const stored = await store.songs.findAll(versions.map(({ id }) => id));
    for (const song of stored) {
      const key = versions.find(({ id }) => id === song.id)?.key ?? song.key;
      const entry = LibraryEntries.of(answeredScore(song), song.details);
      this.#put({ id: song.id, version: song.version, entry, key });
    }
  }
}
