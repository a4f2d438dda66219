import { setImmediate } from 'node:timers/promises';
import { Pitches, Tunes } from '#music';
import type { TuneAnswer } from '../../contract/library.ts';
import type { TeamStore } from '../../store/store.ts';
import { Refusal } from '../refusal.ts';
import type { Book } from './book.ts';
import { librarySong, sungUntil } from './library-song.ts';

const MOST_NOTES = 60;
const MOST_TUNES = 10;
/** So many tunes are looked at before others get their turn: at worst, for a run over six octaves, they take 30 ms. */
const AT_ONCE = 100;

/** `D4,G4,B4` or parted by spaces. */
function notesOf(text: string): string[] {
  const notes = text.split(/[\s,]+/).filter((each) => each !== '');
  const wrong = notes.find((each) => Pitches.parsePitch(each) === null);
  if (wrong !== undefined) {
    throw new Refusal(
      'unreadable-notes',
      `“${wrong}” is not a note; one looks like D4, F#4 or Bb3.`,
    );
  }
  if (notes.length < Tunes.FEWEST_NOTES || notes.length > MOST_NOTES) {
    throw new Refusal(
      'unreadable-notes',
      `Give the first notes of the tune, from ${Tunes.FEWEST_NOTES} to ${MOST_NOTES} of them; ${notes.length} were given.`,
    );
  }
  return notes;
}

/** The tunes that begin like these notes or hold them, in any key, the most like first. */
export async function findByNotes(store: TeamStore, book: Book, text: string): Promise<TuneAnswer> {
  const notes = notesOf(text);
  await book.update(store);
  const now = store.surroundings.now();
  const songs = [...book.songs.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
  const search = new Tunes.TuneSearch(notes, MOST_TUNES);
  for (const [i, { entry }] of songs.entries()) {
    search.look(entry.sign);
    if (i % AT_ONCE === AT_ONCE - 1) await setImmediate();
  }
  return {
    songs: search.found.flatMap(({ tune, distance, from }) => {
      const song = songs[tune];
      if (!song) return [];
      const listed = librarySong(song, sungUntil(book.sungDays(song.id), now));
      return [{ song: listed, distance, bar: song.entry.noteBars[from] ?? 0 }];
    }),
  };
}
