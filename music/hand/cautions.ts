/** A caution for hands, with where it comes from. Shown where a part is practised and printed at the foot of a sheet. */
export interface Caution {
  readonly words: string;
  readonly source: string;
}

export const HAND_CAUTIONS: readonly Caution[] = [
  {
    words: 'Stop when something hurts, and ask someone qualified if it comes back.',
    source: 'common practice',
  },
  {
    words: 'Take breaks: practising long without a pause went with more hand trouble.',
    source:
      'Zhao et al. 2024, Front. Psychol. (363 conservatoire pianists: hours, no warm-up and no breaks linked to disorders)',
  },
  {
    words: 'Play chords with the weight of the arm, not with force.',
    source:
      'Furuya et al. 2006, Medical Problems of Performing Artists 21, 112–117 (203 pianists: forceful chords contributed)',
  },
  {
    words: 'Never stretch for a note: leave it out, or roll the shape nearer.',
    source: 'common practice; shapes here span an octave at most unless the player says more',
  },
];
