import type { Block } from './blocks.ts';

/** Which lines of a sheet a person has put away on this device. */
export interface HiddenLines {
  has: (id: string) => boolean;
  hide: (id: string) => void;
  showAll: () => void;
}

/** Whether a device shows the hand pictures of those who know the shapes. */
export interface ShownShapes {
  readonly shown: boolean;
  toggle: () => void;
}

/** What sheets need of the stand they lie on. */
export interface StandLike {
  room: number;
  readonly page: number;
  readonly direction: number;
  readonly sheet: number;
  /** CSS px between two blocks of the page that is open. */
  readonly spacing: number;
  /** Missing: nothing is put away here, and nothing can be. */
  readonly hidden?: HiddenLines;
  /** Missing: all pictures are shown, and cannot be put away. */
  readonly shapes?: ShownShapes;
  lay: (blocks: readonly Block[]) => void;
  measured: (block: number, height: number) => void;
  shows: (block: number) => boolean;
  press: (event: PointerEvent) => void;
  release: (event: PointerEvent) => void;
  cancel: () => void;
}
