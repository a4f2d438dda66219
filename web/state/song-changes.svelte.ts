import { Reduction, type Density } from '#music';
import type { SongPage } from './song.svelte.ts';

/** A choice of how often the chord changes. */
export interface ChangesChoice {
  readonly density: Density;
  readonly name: string;
  /** What it means for the players. */
  readonly words: string;
}

const CHOICES: readonly ChangesChoice[] = [
  {
    density: 'beat',
    name: 'every change',
    words: 'each chord that the written voices make',
  },
  { density: 'half bar', name: 'one or two a bar', words: 'the quickest changes left out' },
  {
    density: 'bar',
    name: 'for a beginner',
    words: 'one a bar, and a second where leaving it out would clash',
  },
  {
    density: 'alone',
    name: 'for playing alone',
    words: 'one a bar, moved to where it suits the whole bar; beside others it would clash',
  },
];

/** How often the team usually changes the chord, in a song whose chords are found in its voices. */
export class UsualChanges {
  readonly #page: SongPage;
  /** How many changes each choice has in this song; two may be the same here. */
  readonly choices: readonly (ChangesChoice & { readonly changes: number })[] = $derived.by(() => {
    const { score } = this.#page;
    return CHOICES.map((choice) => {
      const { density } = choice;
      return { ...choice, changes: score ? Reduction.chords(score, { density }).chords.length : 0 };
    });
  });

  constructor(page: SongPage) {
    this.#page = page;
  }

  readonly density: Density = $derived.by(() => this.#page.density);
  /** Whether there is anything to choose: some chord was found and not written. */
  readonly found: boolean = $derived.by(
    () => this.#page.shown?.chords.some(({ guess }) => guess) ?? false,
  );

  choose(density: Density): void {
    const choice = CHOICES.find((each) => each.density === density);
    if (!choice || density === this.density) return;
    this.#page.arrangeSaying({ density }, `Chords now: ${choice.name}.`);
  }
}
