import { KeyFit, type Singer } from '#music';
import { buildScore } from './score-builder.ts';

/** Two voices of our own invention; only the first takes the whole tune as it is written. */
const RUTH: Singer = {
  id: 'ruth',
  name: 'Ruth',
  comfortable: { low: 'A3', high: 'E5' },
  reads: 'as written',
};
const ADA: Singer = {
  ...RUTH,
  id: 'ada',
  name: 'Ada',
  comfortable: { low: 'G3', high: 'B4' },
};

/** D4 to D5, in G. */
const TUNE = buildScore({
  key: 'G',
  meter: '3/4',
  voices: { tune: 'D4 | G4:2 B4 | B4:2 A4 | G4:2 E4 | D4:2 D4 | G4:2 B4 | B4:2 A4 | D5:3 | D5:2' },
});

/** The keys that stay where Ruth leads. */
export const ROWS = KeyFit.front(KeyFit.table(TUNE, [RUTH, ADA]), { lead: 'ruth' }).rows;
