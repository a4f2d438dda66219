import { describe, expect, it } from 'vitest';
import { awayLeads, leadOf, type Serving } from './leads.ts';

const ADA: Serving = { id: 'ada', roles: ['lead voice'] };
const ELIAS: Serving = { id: 'elias', roles: ['guitar', 'lead voice'] };
const JOEL: Serving = { id: 'joel', roles: ['keys'] };

describe('who leads the singing of a song', () => {
  it.each([
    ['the one whom the line names', 'elias', 'ada', [ADA, ELIAS], 'elias'],
    ['but not where that one does not serve this week', 'ruth', 'elias', [ADA, ELIAS], 'elias'],
    ['nor in place of a lead voice who does', 'ruth', null, [JOEL, ADA], 'ada'],
    ['nor where nobody else does', 'ruth', null, [JOEL], null],
    ['else whoever usually leads it', null, 'elias', [ADA, ELIAS], 'elias'],
    ['but not where they are away this week', null, 'elias', [JOEL, ADA], 'ada'],
    ['else the first lead voice', null, null, [JOEL, ELIAS, ADA], 'elias'],
    ['else nobody', null, 'ada', [JOEL], null],
  ])('is %s', (_, named, usual, serving, lead) => {
    expect(leadOf(named, usual, serving)).toBe(lead);
  });
});

describe('who was named to lead and does not serve this week', () => {
  it.each([
    ['nobody, where all are there', 'ada', ['elias', null], []],
    ['the lead of the song', 'ruth', [null, undefined], ['ruth song']],
    ['the lead of a pass, once', 'ada', ['tom', 'ada', 'tom'], ['tom pass']],
    ['one who leads both is said of the song', 'ruth', ['ruth', 'tom'], ['ruth song', 'tom pass']],
    ['nobody, where nobody is named', null, [null], []],
  ])('is %s', (_, named, passes, away) => {
    const found = awayLeads(named, passes, [ADA, ELIAS]);
    expect(found.map(({ id, leads }) => `${id} ${leads}`)).toEqual(away);
  });
});
