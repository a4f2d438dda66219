import { describe, expect, it } from 'vitest';
import { barAfter, COLUMN, drawLadder, ordered, STEP, type LadderSinger } from './range-ladder.ts';

const singer = (
  name: string,
  low: string,
  high: string,
  limit: LadderSinger['limit'] = null,
): LadderSinger => ({ id: name, name, comfortable: { low, high }, limit });

const TEAM = [
  singer('Ruth', 'A3', 'D5', { low: 'F3', high: 'F5' }),
  singer('Joel', 'G2', 'C4'),
  singer('Ines', 'G3', 'C5', { low: 'G3', high: 'C5' }),
];

describe('The range ladder', () => {
  it('stands low voices first, by the middle of what sits easily', () => {
    expect(ordered(TEAM).map(({ name }) => name)).toEqual(['Joel', 'Ines', 'Ruth']);
    const twins = [singer('B', 'A3', 'C5'), singer('A', 'A3', 'C5'), singer('C', 'G3', 'D5')];
    expect(ordered(twins).map(({ name }) => name)).toEqual(['C', 'A', 'B']);
  });

  it('draws sounding pitch on a great staff: lines a third apart, C4 on the ledger line between the staves', () => {
    const { bars, lines } = drawLadder(TEAM);
    const [joel, ines, ruth] = bars;
    // E4 is the lowest line of the upper staff, A3 the highest of the lower one, G2 its lowest (great staff, common practice).
    const [e4, g2, a3] = [lines[0] ?? 0, lines[5] ?? 0, lines[9] ?? 0];
    expect(joel?.bottom).toBe(g2);
    expect(ruth?.bottom).toBe(a3);
    expect(joel?.top).toBe((e4 + a3) / 2);
    expect(a3 - e4).toBe(4 * STEP);
    expect(ines?.top).toBe(e4 - 5 * STEP);
  });

  it('draws furthest notes only where they are known and further', () => {
    const { bars } = drawLadder(TEAM);
    expect(bars.map(({ far }) => far !== null)).toEqual([false, false, true]);
    expect(bars[2]?.label).toBe(
      'The range of Ruth: A3 to D5 sits easily; the furthest notes F3 to F5',
    );
    expect(bars[0]?.label).toBe('The range of Joel: G2 to C4 sits easily');
  });

  it('gives a bar its ledger lines, C4 to whoever crosses it, and no note leaves the picture', () => {
    const wide = [singer('deep', 'C2', 'E3'), singer('high', 'E4', 'C6')];
    const { ledgers, bars, height } = drawLadder(wide);
    // E2 and C2 below the lower staff, A5 and C6 above the upper one; nobody crosses C4.
    expect(ledgers).toHaveLength(4);
    for (const { top, bottom } of bars) {
      expect(top).toBeGreaterThan(0);
      expect(bottom).toBeLessThan(height);
    }
    expect(drawLadder(TEAM).ledgers).toHaveLength(3);
  });

  it('spreads over a wide page, and never closer than a finger and a name need', () => {
    for (const room of [0, 300, 380, 1100]) {
      const { bars, column, width } = drawLadder(TEAM, room);
      expect(column).toBeGreaterThanOrEqual(COLUMN);
      expect((bars[1]?.x ?? 0) - (bars[0]?.x ?? 0)).toBe(column);
      if (column > COLUMN) expect(width).toBeLessThanOrEqual(room);
    }
    expect(drawLadder(TEAM, 380).column).toBeGreaterThan(COLUMN);
  });

  it('is walked with the arrow keys', () => {
    expect(barAfter('ArrowRight', 0, 3)).toBe(1);
    expect(barAfter('ArrowRight', 2, 3)).toBe(2);
    expect(barAfter('ArrowLeft', 0, 3)).toBe(0);
    expect(barAfter('End', 0, 3)).toBe(2);
    expect(barAfter('a', 0, 3)).toBeNull();
  });
});
