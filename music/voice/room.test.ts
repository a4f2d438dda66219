import { describe, expect, it } from 'vitest';
import { Room, Keys, type Key } from '#music';
import { hymn } from '#test/support/hymn.ts';

const key = (text: string): Key => {
  const read = Keys.readKey(text);
  if (!read) throw new Error(`no key ${text}`);
  return read;
};
const women = Room.ROOM_GROUPS.find(({ id }) => id === 'women');
if (!women) throw new Error('no women');

describe('Who is still singing', () => {
  it('falls off at the ends as the normal distribution does', () => {
    // One standard deviation above the middle one’s highest note: 15.87 % (table of the normal distribution, z = −1).
    const above = Room.withinGroup(women.high + 0.5 + Room.SPREAD, women);
    expect(above).toBeCloseTo(0.1587, 4);
    const far = Room.withinGroup(women.low - 0.5 - 2 * Room.SPREAD, women);
    expect(far).toBeCloseTo(0.0228, 4);
  });

  it('is nearly everybody in the middle of all', () => {
    expect(Room.shareAt(64, { women: 1 })).toBeGreaterThan(0.99);
    expect(Room.shareAt(64, {})).toBe(0);
  });

  it('lets men sing an octave below', () => {
    // The middle man’s highest is half a step below E4; printed E5 is his E4, and half of the men are there.
    expect(Room.shareAt(76, { men: 1 })).toBeCloseTo(0.5, 3);
    expect(Room.shareAt(76, { women: 1 })).toBeLessThan(0.3);
  });

  it('prefers the lower key where a tune climbs, and older people want it lower still', () => {
    const tune = hymn('Amazing_Grace-New_Britain.abc');
    const share = (tonic: string, room: Room.RoomShares) =>
      Room.inKey(tune, key(tonic), room)?.share ?? 0;
    expect(share('F', Room.USUAL_ROOM)).toBeGreaterThan(share('Bb', Room.USUAL_ROOM));
    const best = (room: Room.RoomShares) =>
      ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab']
        .map((tonic) => ({ tonic, share: share(tonic, room) }))
        .reduce((a, b) => (b.share > a.share ? b : a)).tonic;
    expect(['C', 'Db', 'D', 'Eb', 'E']).toContain(best({ 'women over 65': 1, 'men over 65': 1 }));
    expect(['F', 'Gb', 'G']).toContain(best({ children: 1 }));
  });

  it('names the note where the fewest are left, and each group by itself', () => {
    const tune = hymn('Amazing_Grace-New_Britain.abc');
    const found = Room.inKey(tune, key('G'), { women: 1, 'men over 65': 1 });
    expect(found?.thinnest.pitch).toBe('D5');
    expect(found?.groups.map(({ group }) => group)).toEqual(['women', 'men over 65']);
    const [first, second] = found?.groups ?? [];
    expect(found?.share).toBeCloseTo(((first?.share ?? 0) + (second?.share ?? 0)) / 2, 10);
  });
});
