import { HymnMeter } from '#music';
import type { SameMeterAnswer } from '../../contract/library.ts';
import type { TeamStore } from '../../store/store.ts';
import { noSuchSong } from '../find-songs.ts';
import type { Book, BookSong } from './book.ts';
import { librarySong, sungUntil } from './library-song.ts';

/** Figures alone do not say whether words fit a tune. */
const STRESS_CAUTION =
  'The same figures are not enough: the stressed syllables must fall on the strong beats too. Most 8.6.8.6 are iambic (a MA-zing GRACE), most 8.7.8.7 trochaic (ALL the PEO-ple): sing a verse through before you choose.';

const byTitle = (a: BookSong, b: BookSong): number =>
  a.entry.title.localeCompare(b.entry.title, 'en') || (a.id < b.id ? -1 : 1);

/** The other songs of the same hymn meter, by title: their tunes may carry these words. */
export async function findSameMeter(
  store: TeamStore,
  book: Book,
  id: string,
): Promise<SameMeterAnswer> {
  await book.update(store);
  const song = book.songs.get(id);
  if (!song) throw noSuchSong();
  const { hymnMeter } = song.entry;
  const now = store.surroundings.now();
  const others = [...book.songs.values()]
    .filter((each) => each.id !== id && HymnMeter.same(each.entry.hymnMeter, hymnMeter))
    .sort(byTitle);
  return {
    hymnMeter,
    songs: others.map((each) => librarySong(each, sungUntil(book.sungDays(each.id), now))),
    caution: STRESS_CAUTION,
  };
}
