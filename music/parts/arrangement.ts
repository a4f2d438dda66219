import type { SongEdge, WayKind } from '../score/ways/transition.ts';
import type { Key } from '../pitch/key.ts';
import type { NamedNotes } from '../pitch/note-names.ts';
import type { Density } from '../score/reduction.ts';
import type { Pass, Tempo } from '../score/score.ts';
import type { Range } from '../voice/range.ts';
import type { Level } from './level.ts';
import type { Role } from './part.ts';
import type { OwnRungs } from './rungs.ts';

/**
 * How a pass is played, from quiet to full: `held`; `answered`, the whole chord on one and one soft repeated note after;
 * `leading`, held and the same chord again on the last felt beat, leading into the next; `every beat`, the felt ones;
 * `swaying`, bass and then chord, in three and in six too; `broken`, its notes in turn. The names are ours, the figures
 * common practice.
 */
export const TEXTURES = ['held', 'answered', 'leading', 'every beat', 'swaying', 'broken'] as const;
export type Texture = (typeof TEXTURES)[number];

/** How the last phrase of a pass ends it, where it is not played on like the rest: see `endings.ts`. */
export const ENDINGS = ['quiet', 'broad'] as const;
export type Ending = (typeof ENDINGS)[number];

/** A change of key inside a song goes no further than a fourth (ours). */
export const MOST_UP = 5;

/** One time through a section, as it is arranged. */
export interface ArrangedPass extends Pass {
  /** Missing: held. */
  readonly texture?: Texture;
  /** Missing: it ends as it is played. */
  readonly ending?: Ending;
  /**
   * Half steps that this pass stands above the arrangement's key, −`MOST_UP`…`MOST_UP`; below zero: below it.
   * Missing: in that key.
   */
  readonly up?: number;
  /** Everybody sings the tune, harmony voices too. Missing: in parts. */
  readonly unison?: true;
  /**
   * Who leads the singing of this pass. What is printed is what stands here: whoever makes a page puts a name in the
   * place of an id. Missing: who leads the song.
   */
  readonly lead?: string;
}

/** What a person's instruments can do; what is missing is usual. */
export interface Instruments {
  /** The keyboard can sound in another key than it is played in. Missing: it cannot. */
  readonly transposeButton?: boolean;
  /** Missing: 4, the lowest E1; 5 goes down to B0. */
  readonly bassStrings?: 4 | 5;
  /** The highest fret for a capo; 0: none. Missing: 5. */
  readonly capo?: 0 | 5 | 7;
}

/** How the music goes on from a song to the next one of the service. */
export interface Onward {
  readonly kind: WayKind;
  /** Of the next song. */
  readonly title: string;
  /** How it begins, as it sounds. */
  readonly to: SongEdge;
  /**
   * The arrangement's key as it sounds. Where the key on a page is another one, the page is read in it, and the chords
   * between are written as they are read there.
   */
  readonly sounds: Key;
  /** What is spoken between the songs: `the reading`; empty: nothing stands between. */
  readonly spoken: string;
}

/** How the music of the song before leads here. */
export interface ComesFrom {
  /** Of the song before. */
  readonly title: string;
  /** The key that it ends in, as it sounds. */
  readonly key: Key;
  readonly kind: WayKind;
}

/** A song made ready for a service: what the whole team plays, whoever plays it. */
export interface Arrangement {
  readonly key: Key;
  /** Of the start; the song's changes of tempo keep their ratio to it. null: as the song has it. */
  readonly tempo: Tempo | null;
  /** Where `tempo` is null: the song’s is that of a file, which nobody confirmed. */
  readonly tempoFrom?: 'file';
  /** How often a song without written chords changes its chord. */
  readonly density: Density;
  /** The passes in the order they are played; missing or null: as the song has them. */
  readonly form?: readonly ArrangedPass[] | null;
  /** Missing: the song ends, and the next one begins as it begins. */
  readonly onward?: Onward;
  /** Missing: the song before does not lead here. */
  readonly comesFrom?: ComesFrom;
}

/** Whether the tempo that is played is a file's, which nobody confirmed. */
export function isFromFile({
  tempo,
  tempoFrom,
}: Pick<Arrangement, 'tempo' | 'tempoFrom'>): boolean {
  return tempo === null && tempoFrom === 'file';
}

/** The person who plays a part. */
export interface Player {
  readonly id: string;
  readonly name: string;
  readonly role: Role;
  readonly level: Level;
  /** The widest shape one hand takes, in semitones. */
  readonly reach: number;
  readonly instruments?: Instruments;
  /** At the keys: the steps they play where they are not those of the level. */
  readonly rungs?: OwnRungs;
  /** For singers: this week's comfortable range, as it sounds; missing or null: not known. */
  readonly voice?: Range | null;
  /** What they call notes and chords, on the page and in sentences; missing: `english`. */
  readonly names?: NamedNotes;
}

/** Who else is there this week; it decides what a player may leave to others. */
export interface Team {
  readonly roles: readonly Role[];
  /** Who leads the singing, by name; missing or null: nobody is named. */
  readonly lead?: string | null;
  /** Where the voice of whoever leads sits easily, as it sounds: it says in which octave the tune is heard. Missing or null: as it is written. */
  readonly leadVoice?: Range | null;
  /** Who sings beside the tune this week, in the order in which lines are given out, the player among them. Missing: nobody is known. */
  readonly harmonies?: readonly HarmonySinger[];
}

/** Somebody who sings beside the tune. */
export interface HarmonySinger {
  readonly id: string;
  readonly name: string;
  /** This week's comfortable range, as it sounds. */
  readonly voice: Range;
}
