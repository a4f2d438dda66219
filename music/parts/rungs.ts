import type { Level, Levels } from './level.ts';

/**
 * Steps of the ladders at the keys, 1 the first. Every step is a whole part, and each ladder is climbed by itself. There
 * is no published ladder of this kind: these follow common practice.
 *
 * - `right`: 1 nearest shapes, held; 2 the same shapes in the texture of the pass; 3 shapes turned so that the tune lies
 *   on top where it can, each phrase in one octave of it, and the tune carried where the hand waits; 4 fuller and open shapes under the
 *   same tops, fills at the ends of phrases.
 * - `left`: 1 the root, held, in one place; 2 the root with its octave, together; 3 the root and the same note an octave
 *   up in turn; 4 root, fifth and octave, with steps into the next chord.
 * - `pedal`: 0 none; 1 one pedal a chord, changed just after it sounds.
 * - `texture`: the fullest texture that is played, by its place in `TEXTURES`; a fuller pass is played like this.
 */
export interface Rungs {
  readonly right: 1 | 2 | 3 | 4;
  readonly left: 1 | 2 | 3 | 4;
  readonly pedal: 0 | 1;
  readonly texture: 1 | 2 | 3 | 4 | 5 | 6;
  /**
   * Help for the singers, asked for like the pedal: in calm textures the note of the shape that carries the tune is
   * repeated softly on the felt beats between. Missing: no.
   */
  readonly pulse?: boolean;
  /**
   * Of a bass player: 1 the note of each chord; 2 with fifths and steps into the next chord; 3 a line on every beat in
   * full textures, the bass of the song in calm ones. Missing: as their level says.
   */
  readonly bass?: 1 | 2 | 3;
}

/** What somebody plays in one song where it is not what their levels say, and where a section is played otherwise still. */
export interface OwnRungs extends Partial<Rungs> {
  /** By id of the section of the song. */
  readonly sections?: Readonly<Record<string, Partial<Rungs>>>;
}

/** Useful mixes. The pedal is asked for, never given with a level. */
const MIXES: Readonly<Record<Level, Omit<Rungs, 'pedal'>>> = {
  beginner: { right: 1, left: 1, texture: 1 },
  intermediate: { right: 2, left: 2, texture: 4 },
  advanced: { right: 4, left: 4, texture: 6 },
};

const BASS: Readonly<Record<Level, 1 | 2 | 3>> = { beginner: 1, intermediate: 2, advanced: 3 };

/** The steps that somebody's levels stand for; a hand without a level of its own has the usual one. */
export function rungsFor(level: Level, levels: Levels = {}): Rungs {
  const right = MIXES[levels['right hand'] ?? level];
  return {
    right: right.right,
    left: MIXES[levels['left hand'] ?? level].left,
    pedal: (levels.pedal ?? 'beginner') === 'beginner' ? 0 : 1,
    texture: right.texture,
  };
}

/** The step that a bass player's level stands for. */
export function bassRungFor(level: Level, levels: Levels = {}): 1 | 2 | 3 {
  return BASS[levels.bass ?? level];
}

/** `right hand rung 2, left hand rung 1, with pedal`. */
export function sayRungs({ right, left, pedal }: Rungs): string {
  const hands = `right hand rung ${right}, left hand rung ${left}`;
  return pedal === 1 ? `${hands}, with pedal` : hands;
}

/**
 * The steps that hold in a section.
 * @param section its id in the song (`copyOf` where a sheet writes it out more than once)
 */
export function rungsIn(usual: Rungs, own: OwnRungs | undefined, section: string): Rungs {
  const { sections, ...whole } = own ?? {};
  return { ...usual, ...whole, ...sections?.[section] };
}
