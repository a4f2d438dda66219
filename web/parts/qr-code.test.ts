import { describe, expect, it } from 'vitest';
import { drawCode, QUIET } from './qr-code.ts';

const ADDRESS = `http://192.168.1.20:3000/s/clx1234567890#${'aB3_-'.repeat(9).slice(0, 43)}`;

/** The dark modules of the drawing. */
function grid({ size, path }: ReturnType<typeof drawCode>): boolean[][] {
  const dark = Array.from({ length: size }, () => Array<boolean>(size).fill(false));
  for (const [, x, y, run] of path.matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g)) {
    for (let i = 0; i < Number(run); i += 1) {
      const row = dark[Number(y)];
      if (row) row[Number(x) + i] = true;
    }
  }
  return dark;
}

/** ISO/IEC 18004: a dark ring of 7 × 7, a light one inside it, a dark middle of 3 × 3. */
const FINDER = ['#######', '#.....#', '#.###.#', '#.###.#', '#.###.#', '#.....#', '#######'];

describe('A QR code', () => {
  const code = drawCode(ADDRESS);
  const dark = grid(code);
  const inner = code.size - 2 * QUIET;

  it('has a side of 17 + 4 × version modules', () => {
    expect((inner - 17) % 4).toBe(0);
  });

  it.each([
    ['upper left', 0, 0],
    ['upper right', 1, 0],
    ['lower left', 0, 1],
  ])('has a finder pattern %s, inside a light margin of four modules', (_, right, down) => {
    const [x0, y0] = [QUIET + right * (inner - 7), QUIET + down * (inner - 7)];
    const drawn = FINDER.map((row, y) =>
      [...row].map((_sign, x) => (dark[y0 + y]?.[x0 + x] ? '#' : '.')).join(''),
    );
    expect(drawn).toEqual(FINDER);
    const margin = dark.flatMap((row, y) =>
      row.filter((on, x) => on && (Math.min(x, y) < QUIET || Math.max(x, y) >= code.size - QUIET)),
    );
    expect(margin).toEqual([]);
  });

  it('is another one for another address', () => {
    expect(drawCode(`${ADDRESS}x`).path).not.toBe(code.path);
  });
});
