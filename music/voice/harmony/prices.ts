/**
 * What a second voice pays for, in points; the line with the least of them in all is taken. The rules are those of
 * part-writing as it is taught (Open Music Theory, "Introduction to species counterpoint" and "Voice-leading in general":
 * thirds and sixths are preferred, dissonances pass on weak beats by step, parallel fifths and octaves are left out, voices
 * move by step and do not cross; so too W. Wieland, "More Voice-Leading Guidelines": no fifths or octaves in a row, none reached
 * by leaps the same way, no overlaps); the points are ours.
 */
export const HARMONY_PRICES = {
  /** A note that the chord has not, on a felt beat or for a felt beat and more. */
  foreign: 12,
  /** The same, shorter and off the beat. */
  passing: 3,
  /** With the tune, as it sounds: thirds and sixths, with octaves between them too, are free. */
  fifth: 3,
  fourth: 5,
  octave: 6,
  unison: 7,
  tritone: 8,
  /** A second or seventh on a felt beat, and off it. */
  second: 20,
  passingSecond: 6,
  /** A half step, or that with octaves between, wherever it stands. */
  halfStep: 30,
  /** On the other side of the tune. */
  crossing: 40,
  /** For each half step further from the tune than a tenth. */
  far: 2,
  /** For each half step outside the comfortable range. */
  outside: 15,
  /** From note to note, by size in half steps: steps are free. */
  third: 2,
  leapOfFourth: 5,
  leapOfFifth: 8,
  leapBeyond: 12,
  /** An augmented fourth or diminished fifth. */
  leapOfTritone: 12,
  /** The same note while the tune moves on. */
  staying: 1,
  /** Both move the same way into a fifth or octave from another one of that kind; from unison to unison they sing the tune. */
  parallel: 15,
  /** Both leap the same way into a fifth or octave. */
  hidden: 4,
  /** Beside a line that somebody else sings: its very note; on a felt beat a second or seventh; the same way in fifths or octaves. */
  doubled: 5,
  clash: 6,
  parallelBeside: 4,
} as const;

export type HarmonyCostKind = keyof typeof HARMONY_PRICES;

/** Half steps: from here on the voices are far apart; a major tenth. */
export const FAR = 16;
