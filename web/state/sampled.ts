/** The recorded notes that are shipped, `s` for a sharp: every third half step where people sing and play. */
export const SAMPLED: readonly string[] = [
  'A1',
  'Ds2',
  'A2',
  'C3',
  'Ds3',
  'Fs3',
  'A3',
  'C4',
  'Ds4',
  'Fs4',
  'A4',
  'C5',
  'Ds5',
  'A5',
];
