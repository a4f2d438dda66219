import { describe, expect, it } from 'vitest';
import { leadOf, voicesOf } from './fit-voices.ts';

const ruth = {
  id: 'ruth',
  name: 'Ruth',
  comfortable: { low: 'A3', high: 'B4' },
  limit: null,
  roles: ['lead voice'],
};
const joel = { id: 'joel', name: 'Joel', comfortable: null, limit: null, roles: ['keys'] };

describe('whose voices a key must fit', () => {
  it('are those whose range is known, and the room after them', () => {
    const ids = (...given: Parameters<typeof voicesOf>) => voicesOf(...given).map(({ id }) => id);
    expect(ids([joel, ruth])).toEqual(['ruth', 'congregation']);
    expect(ids([joel, ruth], null)).toEqual(['ruth']);
    expect(voicesOf([], 'one-octave')[0]?.comfortable).toEqual({ low: 'C4', high: 'C5' });
  });

  it.each([
    [[joel, ruth], 'ruth', 'ruth'],
    [[joel, ruth], 'joel', 'ruth'],
    [[joel], null, 'congregation'],
  ])('led by the one named where a range is known, else the first', (singers, named, lead) => {
    expect(leadOf(voicesOf(singers), named)).toBe(lead);
  });

  it('led by nobody where there is no voice', () => {
    expect(leadOf([], 'ruth')).toBeNull();
  });
});
