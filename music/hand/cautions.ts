/** A caution for hands, with where it comes from: shown where a part is practised. */
export interface HandCaution {
  readonly id: 'pain' | 'breaks' | 'force' | 'stretch' | 'loudness';
  readonly text: string;
  readonly source: string;
}

export const HAND_CAUTIONS: readonly HandCaution[] = [
  {
    id: 'pain',
    text: 'Stop when something hurts. If it comes back, ask someone qualified before you go on.',
    source: 'common practice',
  },
  {
    id: 'breaks',
    text: 'Take breaks and warm up: long hours without either went with hand trouble among students of the piano.',
    source: 'Zhao et al. 2024, Front. Psychol. (363 conservatoire pianists, 82.6 % had had some)',
  },
  {
    id: 'force',
    text: 'Let the arm carry the fingers; never hit a chord with force.',
    source:
      'Furuya et al. 2006, Medical Problems of Performing Artists 21, 112–117 (203 pianists; playing chords forcefully contributed)',
  },
  {
    id: 'stretch',
    text: 'Never stretch for a note: leave it out.',
    source: 'common practice',
  },
];

/** Where an instrument is amplified or struck. */
export const LOUDNESS: HandCaution = {
  id: 'loudness',
  text: 'No louder than the singing needs. At work 85 dBA over eight hours is the limit that NIOSH recommends, and half the time for each 3 dB more; local rules may ask for less.',
  source:
    'US National Institute for Occupational Safety and Health (NIOSH), publication 98-126, 1998',
};
