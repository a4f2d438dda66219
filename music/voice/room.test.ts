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

  it('puts keys side by side, the highest first, each as it is by itself', () => {
    const tune = hymn('Amazing_Grace-New_Britain.abc');
    const rows = Room.inKeys(tune, Keys.keysToOffer('major'), Room.USUAL_ROOM);
    expect(rows.map(({ up }) => up)).toEqual([5, 4, 3, 2, 1, 0, -1, -2, -3, -4, -5, -6]);
    for (const row of rows) {
      expect(Room.inKey(tune, row.key, Room.USUAL_ROOM)).toEqual(row);
      // People times time, added up note by note.
      const notes = Room.notesIn(tune, row.key, Room.USUAL_ROOM);
      const time = notes.reduce((sum, { length }) => sum + length, 0);
      const sung = notes.reduce((sum, { length, share }) => sum + length * share, 0);
      expect(row.share).toBeCloseTo(sung / time, 10);
      expect(Math.min(...notes.map(({ share }) => share))).toBe(row.thinnest.share);
    }
    expect(Room.inKeys(tune, [key('G')], {})).toEqual([]);
  });

  it('says what a key is worth, where the fewest are left, and which key keeps most', () => {
    const tune = hymn('Amazing_Grace-New_Britain.abc');
    const rows = Room.inKeys(tune, Keys.keysToOffer('major'), { children: 1 });
    const inD = rows.find(({ key: { tonic } }) => tonic === 'D');
    if (!inD) throw new Error('no row of D');
    // A3 lies five half steps below the middle child’s lowest, D4, and half a step is allowed: (57.5 − 62) / 3 = −1.5,
    // of which the table of the normal distribution has 6.68 %.
    expect(Room.sayThinnest(inD)).toBe(
      'Fewest are left in bar 4: 7\u00a0% on the A3 of two beats.',
    );
    expect(Room.sayShare(inD)).toMatch(
      /^In D major \d+\u00a0% of the room is expected to sing in comfort, over the time of the whole tune\.$/,
    );
    expect(Room.sayMost(rows, inD)).toMatch(
      /^G♭? major would keep the most: \d+\u00a0%, \d+ people/,
    );
    const best = rows.reduce((a, b) => (b.share > a.share ? b : a));
    expect(Room.sayMost(rows, best)).toBe('No other key keeps more of the room.');
    expect(Room.sayMost([], best)).toBeNull();
    const [first] = Room.notesIn(tune, key('D'), { children: 1 });
    if (!first) throw new Error('no note');
    expect(Room.sayNote(first)).toBe('the pickup, A3, one beat: 7\u00a0% of the room');
  });

  it('never calls itself measured', () => {
    expect(Room.ASSUMED.join(' ')).toContain('nobody in this room was measured');
  });
});
