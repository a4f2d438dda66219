import { Keys, type Key } from '#music';
import type { SongSystems } from '#server/contract/sheets.ts';
import { songSystems } from '#web/api/songs.ts';
import { Engraving } from './engraving.svelte.ts';

/** Widths are asked for in steps, so that a dragged window does not engrave at every pixel. */
const STEP = 20;
/** At a desk words are read from half the distance of a stand. */
const DESK_TEXT = 0.75;

/** The tune of a song, engraved with its words and chords. */
export class SongMusic extends Engraving<SongSystems> {
  /**
   * @param revision changes when the song's chords or key answers do
   * @param width of the column, CSS px
   */
  draw(id: string, key: Key, width: number, revision: number): void {
    if (width < 1) return;
    const query = {
      key: Keys.writeKey(key),
      width: Math.max(320, Math.floor(width / STEP) * STEP),
      text: DESK_TEXT,
      v: revision,
    };
    void this.show((signal) => songSystems(id, query, signal));
  }
}
