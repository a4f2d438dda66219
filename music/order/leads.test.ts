import { describe, expect, it } from 'vitest';
import { leadOf, type Serving } from './leads.ts';

const ADA: Serving = { id: 'ada', roles: ['lead voice'] };
const ELIAS: Serving = { id: 'elias', roles: ['guitar', 'lead voice'] };
const JOEL: Serving = { id: 'joel', roles: ['keys'] };

describe('who leads the singing of a song', () => {
  it.each([
    ['the one whom the line names', 'elias', 'ada', [ADA, ELIAS], 'elias'],
    ['else whoever usually leads it', null, 'elias', [ADA, ELIAS], 'elias'],
    ['but not where they are away this week', null, 'elias', [JOEL, ADA], 'ada'],
    ['else the first lead voice', null, null, [JOEL, ELIAS, ADA], 'elias'],
    ['else nobody', null, 'ada', [JOEL], null],
  ])('is %s', (_, named, usual, serving, lead) => {
    expect(leadOf(named, usual, serving)).toBe(lead);
  });
});
