import { HymnMeter, Tunes } from '#music';
import type { SameMeterAnswer } from '../../contract/library.ts';
import type { TeamStore } from '../../store/store.ts';
import { noSuchSong } from '../find-songs.ts';
import { byFiling, type Book } from './book.ts';
import { librarySong, sungUntil } from './library-song.ts';
import { onceEach } from './once-each.ts';

/** Figures alone do not say whether words fit a tune. */
const STRESS_CAUTION =
  'The same figures are not enough: the stressed syllables must fall on the strong beats too. Most 8.6.8.6 are iambic (a MA-zing GRACE), most 8.7.8.7 trochaic (ALL the PEO-ple): sing a verse through before you choose.';

/**
 * The other songs of the same hymn meter, by title: their tunes may carry these words. Songs with the song's own melody, in
 * whatever key, are no other tune: copies of it, and other words to it.
 */
export async function findSameMeter(
  store: TeamStore,
  book: Book,
  id: string,
): Promise<SameMeterAnswer> {
  await book.update(store);
  const song = book.songs.get(id);
  if (!song) throw noSuchSong();
  const { hymnMeter, sign } = song.entry;
  const isSame = onceEach((other: string | null) => HymnMeter.same(other, hymnMeter));
  const now = store.surroundings.now();
  const others = [...book.songs.values()]
    .filter(({ entry }) => isSame(entry.hymnMeter))
    .filter(({ id: other, entry }) => other !== id && !Tunes.alike(entry.sign, sign))
    .sort(byFiling);
  return {
    hymnMeter,
    songs: others.map((each) => librarySong(each, sungUntil(book.sungDays(each.id), now))),
    caution: STRESS_CAUTION,
  };
}
