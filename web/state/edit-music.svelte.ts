import { measuresOf, type Engraved, type EngraveRequest, type Score, type Ticks } from '#music';
import { pointedPlaces } from './edit-beats.ts';

/** The engraver on this device. */
export interface WorkingEngraver {
  engrave(request: EngraveRequest): Promise<Engraved>;
}

/** At a desk words are read from half the distance of a stand. */
const DESK_TEXT = 0.75;
const STEP = 20;

/** What is drawn: a song, the voices of it that are shown, and the verse under the notes. */
export interface DrawnSong {
  readonly score: Score;
  readonly voices: readonly string[];
  readonly verse: number | 'all';
  /** Of the column, CSS px. */
  readonly width: number;
}

/** The request whose lines are as wide as the column: a page has edges and a margin besides. */
export function requestFor({ score, voices, verse, width }: DrawnSong): EngraveRequest {
  const page = (at: number) => ({ width: at, textScale: DESK_TEXT, verse });
  let wide = Math.max(320, Math.floor(width / STEP) * STEP);
  while (measuresOf(page(wide + STEP)).system <= width && wide < width + 300) wide += STEP;
  return { score, page: page(wide), voices, fingers: false, places: true, opening: true };
}

/** The notes on the screen, drawn anew after each edit: while one is drawn, only the latest waits. */
export class EditMusic {
  current = $state.raw<Engraved | null>(null);
  /** The song that is drawn; may be one edit behind. */
  drawn = $state.raw<Score | null>(null);
  busy = $state(false);
  trouble = $state<string | null>(null);
  /** Places of drawn chords that were found and not written. */
  readonly guesses: ReadonlySet<Ticks> = $derived(
    new Set(this.drawn?.chords.flatMap(({ at, guess }) => (guess ? [at] : [])) ?? []),
  );
  readonly #engraver: WorkingEngraver;
  #waiting: DrawnSong | null = null;

  constructor(engraver: WorkingEngraver) {
    this.#engraver = engraver;
  }

  draw(song: DrawnSong): void {
    if (song.width < 1) return;
    this.#waiting = song;
    if (!this.busy) void this.#work();
  }

  /** Where a finger can choose a place for a chord; null: nothing is drawn. */
  momentsOf(voice: string): ((bar: number) => readonly Ticks[]) | null {
    const { drawn } = this;
    return drawn && ((bar) => pointedPlaces(drawn, bar, voice));
  }

  async #work(): Promise<void> {
    this.busy = true;
    while (this.#waiting) {
      const song: DrawnSong = this.#waiting;
      this.#waiting = null;
      try {
        this.current = await this.#engraver.engrave(requestFor(song));
        this.drawn = song.score;
        this.trouble = null;
      } catch (error) {
        const why = error instanceof Error ? error.message : String(error);
        this.trouble = `The notes could not be drawn: ${why}. The song itself is kept.`;
      }
    }
    this.busy = false;
  }
}
