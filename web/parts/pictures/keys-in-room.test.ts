import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Abc, Keys, Room, type Key } from '#music';
import { drawKeys, rowAfter } from './keys-in-room.ts';

const read = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
const score = read.ok ? read.value[0] : undefined;
if (!score) throw new Error('the hymn is there');

const key = (text: string): Key => {
  const found = Keys.readKey(text);
  if (!found) throw new Error(`no key ${text}`);
  return found;
};
const rows = Room.inKeys(score, Keys.keysToOffer('major'), Room.USUAL_ROOM);
const known = { written: key('G'), usual: key('E'), chosen: key('F') };

describe('Keys side by side', () => {
  const drawn = drawKeys(rows, known, 480);
  const rowOf = (name: string) => drawn.rows.find((row) => row.name === name);

  it('are twelve rows from the highest to the lowest, none in another', () => {
    expect(drawn.rows.map(({ name }) => name)).toEqual([
      'C',
      'B',
      'B♭',
      'A',
      'A♭',
      'G',
      'F♯',
      'F',
      'E',
      'E♭',
      'D',
      'D♭',
    ]);
    const tops = drawn.rows.map(({ top }) => top);
    for (const [i, top] of tops.entries())
      if (i > 0) expect(top).toBe((tops[i - 1] ?? 0) + drawn.row);
  });

  it('have bars as long as people times time', () => {
    const [zero, half, all] = drawn.ticks.map(({ x }) => x);
    expect(zero).toBe(drawn.zero);
    for (const [i, { share }] of rows.entries()) {
      const long = (drawn.rows[i]?.end ?? 0) - drawn.zero;
      expect(long).toBeCloseTo(share * ((all ?? 0) - drawn.zero), 6);
    }
    expect(half).toBeCloseTo(((zero ?? 0) + (all ?? 0)) / 2, 6);
  });

  it('say which is written, usual, on the screen, and where most sing', () => {
    expect(rowOf('G')).toMatchObject({ is: ['written'], isChosen: false });
    expect(rowOf('E')?.is).toContain('usual');
    expect(rowOf('F')).toMatchObject({ isChosen: true });
    const most = Math.max(...rows.map(({ share }) => Math.round(100 * share)));
    for (const [i, { share }] of rows.entries()) {
      const isMost = Math.round(100 * share) === most;
      expect(drawn.rows[i]?.is.includes('most sing')).toBe(isMost);
    }
    expect(rowOf('G')?.label).toMatch(/^G major, \d+\u00a0% of the room, written$/);
  });

  it('have a mark for each group, each of another shape, none on another’s place', () => {
    for (const { marks, top } of drawn.rows) {
      expect(marks).toHaveLength(5);
      expect(new Set(marks.map(({ outline }) => outline)).size).toBe(5);
      const places = new Set(marks.map(({ x, y }) => `${Math.round(x)} ${y}`));
      expect(places.size).toBe(5);
      for (const { y } of marks) expect(top + y + 4).toBeLessThan(top + drawn.row);
    }
  });

  it('are gone through with the arrows, Home and End', () => {
    expect([rowAfter('ArrowDown', 11, 12), rowAfter('ArrowUp', 0, 12)]).toEqual([0, 11]);
    expect([rowAfter('Home', 5, 12), rowAfter('End', 5, 12), rowAfter('x', 5, 12)]).toEqual([
      0,
      11,
      null,
    ]);
  });
});
