import type { Block } from './blocks.ts';

/** What sheets need of the stand they lie on. */
export interface StandLike {
  room: number;
  readonly page: number;
  readonly direction: number;
  readonly sheet: number;
  /** CSS px between two blocks of the page that is open. */
  readonly spacing: number;
  lay: (blocks: readonly Block[]) => void;
  measured: (block: number, height: number) => void;
  shows: (block: number) => boolean;
  press: (event: PointerEvent) => void;
  release: (event: PointerEvent) => void;
  cancel: () => void;
}
