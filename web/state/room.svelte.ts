import { Keys, Pitches, Room, Time, Transpose } from '#music';
import type { Key, KeyInRoom, NoteInRoom, RoomShares, Score, Ticks } from '#music';

/** A song as it is done. */
export interface RoomSong {
  readonly score: Score | null;
  readonly writtenKey: Key | null;
  readonly key: Key | null;
}

/** Who is in the room. */
export interface RoomPeople {
  readonly room: RoomShares;
  readonly isUsualRoom: boolean;
}

/** A note, and the syllable that begins on it; empty: none. */
export type NoteOfRoom = NoteInRoom & { readonly word: string };

/** Who is still singing under each note, and in which key most would: a model, worked out here while it is open. */
export class RoomPicture {
  open = $state(false);
  readonly #song: RoomSong;
  readonly #people: RoomPeople;

  constructor(song: RoomSong, people: RoomPeople) {
    this.#song = song;
    this.#people = people;
  }

  /** The usual keys; the written one and the one on the screen keep their own spelling. The highest first. */
  readonly rows: readonly KeyInRoom[] = $derived.by(() => {
    const { score, key, writtenKey } = this.#song;
    if (!score || !key || !writtenKey) return [];
    const keys = Keys.keysToOffer(key.mode).map((each) =>
      soundsAs(each, key) ? key : soundsAs(each, writtenKey) ? writtenKey : each,
    );
    return Room.inKeys(score, keys, this.#people.room);
  });
  /** The key on the screen. */
  readonly current: KeyInRoom | null = $derived.by(() => {
    const { key } = this.#song;
    return (key && this.rows.find((row) => Keys.sameKey(row.key, key))) || null;
  });
  readonly #words: ReadonlyMap<Ticks, string> = $derived.by(() => wordsOf(this.#song.score));
  readonly notes: readonly NoteOfRoom[] = $derived.by(() => {
    const { score, key } = this.#song;
    if (!score || !key) return [];
    return Room.notesIn(score, key, this.#people.room).map((note) => ({
      ...note,
      word: this.#words.get(note.at) ?? '',
    }));
  });
  /** Sharps positive, flats negative, as it is printed in the key on the screen. */
  readonly signature: number = $derived.by(() => {
    const { score, key } = this.#song;
    const first = score?.keys[0];
    if (!first || !key) return 0;
    return first.signature + Transpose.fifthsOfInterval(Transpose.interval(first.key, key));
  });
  readonly sentences: readonly string[] = $derived.by(() => {
    const { current, rows } = this;
    if (!current) return [];
    const most = Room.sayMost(rows, current);
    return [Room.sayShare(current), Room.sayThinnest(current), ...(most ? [most] : [])];
  });
  /** Why there is nothing to draw; null: there is. */
  readonly missing: 'tune' | 'people' | null = $derived.by(() => {
    if (this.current) return null;
    return sizeOf(this.#people.room) > 0 ? 'tune' : 'people';
  });
  /** Of each group that is there, with its part of the room and where its range comes from. */
  readonly groups = $derived.by(() => groupsOf(this.#people.room));
  readonly isUsual = $derived.by(() => this.#people.isUsualRoom);
}

const soundsAs = (one: Key, other: Key): boolean =>
  Pitches.pitchClassOf(one.tonic) === Pitches.pitchClassOf(other.tonic);

/** The syllables of the first verse that has one there. */
function wordsOf(score: Score | null): Map<Ticks, string> {
  const words = new Map<Ticks, string>();
  for (const { at, syllables } of score ? Time.melodyOf(score).notes : []) {
    const first = syllables?.find((each) => each);
    if (first) words.set(at, first.hyphen ? `${first.text}-` : first.text);
  }
  return words;
}

/** How many people there are. */
export function sizeOf(room: RoomShares): number {
  return Room.ROOM_GROUPS.reduce((sum, { id }) => sum + Math.max(0, room[id] ?? 0), 0);
}

/** Each group that is there, with its part of the room, 0–1. */
export function groupsOf(room: RoomShares): { id: string; part: number; source: string }[] {
  const size = sizeOf(room);
  return Room.ROOM_GROUPS.flatMap(({ id, source }) => {
    const people = Math.max(0, room[id] ?? 0);
    return people > 0 ? [{ id, part: people / size, source }] : [];
  });
}
