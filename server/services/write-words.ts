import { failure, type PlayedKey, type Player, type Result, type WordsSheet } from '#music';
import type { SongPages } from './make-song-pages.ts';

/** Words with chords for one player. */
export function writeWords(
  song: Pick<SongPages, 'title'>,
  _player: Player,
  _played: PlayedKey | null,
): Result<WordsSheet> {
  return failure({ code: 'no-words', message: `“${song.title}” has no sheet of words yet.` });
}
