/**
 * What each kind of difficulty weighs. Our own weights, not published: no measured scale of chord
 * changes for beginners is known to us. That a thumb or little finger on a black key and a stretch
 * cost something at all follows Parncutt et al. 1997 (rules thumb-on-black, five-on-black, stretch,
 * small and large span).
 */
export const WEIGHTS = {
  /** A free finger takes a key, instead of another or joining. */
  takes: 1,
  /** A finger only lifts. */
  lifts: 0.25,
  /** A key stays down but changes its finger. */
  changes: 1.5,
  /** A finger goes from one key to another. */
  goes: 0.5,
  /** Each semitone of the thumb's way: it carries the hand along. */
  thumbSemitone: 0.25,
  /** Each finger that goes against the others. */
  contrary: 1,
  thumbOnBlack: 1,
  littleOnBlack: 0.5,
  /** Each point of holding the new shape (spans of Parncutt et al. 1997). */
  stretch: 0.25,
  /** Each time the left hand leaves its place. */
  leftShift: 1,
} as const;

/**
 * From this time on a change costs nothing extra for its haste; in half the time it costs twice as
 * much. Ours.
 */
export const UNHURRIED_SECONDS = 2;
