import type { StandLike } from './stand-like.ts';

/** Where a sheet is only printed: nothing of it is put away, and no page of it is turned. */
export const ON_PAPER: StandLike = {
  room: 0,
  page: 0,
  direction: 0,
  sheet: 0,
  spacing: 0,
  lay: () => undefined,
  measured: () => undefined,
  shows: () => true,
  press: () => undefined,
  release: () => undefined,
  cancel: () => undefined,
};
