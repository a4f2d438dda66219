import { Reduction } from '#music';
import type { SongSystems, SongSystemsQuery } from '../contract/sheets.ts';
import type { Renderer } from '../render/renderer.ts';
import type { TeamStore } from '../store/store.ts';
import { engrave } from './engrave.ts';
import { findArrangedSong, inKey, requireKey } from './find-arranged-song.ts';
import { requireRhythm } from './require-rhythm.ts';
import { requireVerse } from './require-verse.ts';

/** Melody, words and chords of a song, engraved for a view. Chords are read at the density of the arrangement. */
export async function engraveSong(
  store: TeamStore,
  renderer: Renderer,
  songId: string,
  query: SongSystemsQuery,
): Promise<SongSystems> {
  const { song, score, arrangement } = await findArrangedSong(store, songId, () => []);
  requireRhythm(score, 'it cannot be engraved as notes');
  requireVerse(score, query.verse);
  const key = query.key === undefined ? song.key : requireKey(query.key, song.key.mode);
  const { density } = arrangement;
  const moved = Reduction.withChords(inKey(score, key), { density });
  const { glyphs, systems } = await engrave(renderer, {
    score: moved,
    page: { width: query.width, textScale: query.text, verse: query.verse },
    voices: [moved.melody],
    fingers: false,
    opening: true,
  });
  return {
    songId,
    key,
    glyphs,
    systems: systems.map(({ svg, width, height, from, to }) => {
      const bars = moved.bars.slice(from, to + 1);
      const [first, last] = [bars[0], bars.at(-1)];
      return {
        svg,
        width,
        height,
        bars: bars.map(({ number }) => number),
        from: first?.at ?? 0,
        to: last ? last.at + last.length : 0,
      };
    }),
  };
}
