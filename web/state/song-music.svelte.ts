import {
  Keys,
  measuresOf,
  type Engraved as EngravedHere,
  type EngraveRequest,
  type Key,
  type Score,
} from '#music';
import { songSystems } from '#web/api/songs.ts';
import { Engraving, type Engraved } from './engraving.svelte.ts';

/** Widths are asked for in steps, so that a dragged window does not engrave at every pixel. */
const STEP = 20;
/** At a desk words are read from half the distance of a stand. */
const DESK_TEXT = 0.75;
/** The other verses stand below the music. */
const VERSE = 1;

/** The width to ask for so that the music itself is as wide as its column: a page has edges and a margin besides. */
export function pageWidthFor(column: number): number {
  for (let width = column; width < column + 300; width += STEP) {
    const { system } = measuresOf({ width, textScale: DESK_TEXT, verse: VERSE });
    const next = measuresOf({ width: width + STEP, textScale: DESK_TEXT, verse: VERSE }).system;
    if (system <= column && next > column) return width;
  }
  return column;
}

/** The engraver on this device, where it is there. */
export interface LocalEngraver {
  readonly isReady: boolean;
  /** Whether it is on its way: what it is asked then it does once it is there. */
  readonly isStarted: boolean;
  engrave(request: EngraveRequest): Promise<EngravedHere>;
}

export interface Drawing {
  readonly songId: string;
  /** Version of the song: a change is never answered from a cache. */
  readonly version: number;
  readonly key: Key;
  /** In that key, with its chords. */
  readonly score: Score;
  /** Of the column, CSS px. */
  readonly width: number;
}

/** The tune of a song, engraved with its words and chords. */
export class SongMusic extends Engraving<Engraved> {
  /** Draws on this device where it can, which needs no network, else on the server. */
  draw({ songId, version, key, score, width }: Drawing, local: LocalEngraver): void {
    if (width < 1) return;
    const wide = Math.max(320, pageWidthFor(Math.floor(width / STEP) * STEP));
    const query = {
      key: Keys.writeKey(key),
      width: wide,
      text: DESK_TEXT,
      verse: VERSE,
      v: version,
    };
    void this.show(async (signal) => {
      const answer = local.isReady ? null : await songSystems(songId, query, signal);
      const isOffline = answer !== null && !answer.ok && answer.trouble.code === 'offline';
      if (answer && !(isOffline && local.isStarted)) return answer;
      const page = { width: wide, textScale: DESK_TEXT, verse: VERSE };
      const request = { score, page, voices: [score.melody], fingers: false, opening: true };
      try {
        return { ok: true, value: await local.engrave(request) };
      } catch {
        return answer ?? songSystems(songId, query, signal);
      }
    });
  }
}
