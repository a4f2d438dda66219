import { describe, expect, it } from 'vitest';
import { Stand } from './stand.svelte.ts';

function stand(): Stand {
  const made = new Stand();
  made.heights = [100, 100, 100, 100, 100];
  made.room = 210;
  made.gap = 10;
  return made;
}

const key = (name: string, more: object = {}) =>
  new KeyboardEvent('keydown', { key: name, cancelable: true, ...more });

describe('Pages on the stand', () => {
  it('lays five systems on three pages, two by two', () => {
    const made = stand();
    expect([made.count, made.page, made.first, made.end]).toEqual([3, 0, 0, 2]);
  });

  it.each([
    ['ArrowRight', 1],
    ['ArrowDown', 1],
    ['PageDown', 1],
    [' ', 1],
    ['End', 2],
    ['ArrowLeft', 0],
    ['Escape', 0],
    ['a', 0],
  ])('from the first page, %j leads to page index %i', (name, page) => {
    const made = stand();
    made.key(key(name));
    expect(made.page).toBe(page);
  });

  it('turns back, and never past either end', () => {
    const made = stand();
    made.turn(9);
    expect(made.page).toBe(2);
    made.key(key('PageUp'));
    made.key(key('ArrowLeft'));
    made.key(key('ArrowLeft'));
    expect(made.page).toBe(0);
  });

  it('leaves keys with Ctrl or Alt to the browser', () => {
    const made = stand();
    const event = key('ArrowRight', { altKey: true });
    made.key(event);
    expect([made.page, event.defaultPrevented]).toEqual([0, false]);
  });

  it('keeps the open system in sight when the pages are laid anew', () => {
    const made = stand();
    made.turn(2);
    expect(made.block).toBe(4);
    made.room = 320;
    expect([made.count, made.page, made.shows(4)]).toEqual([2, 1, true]);
  });
});

/** Two songs: the first of four systems, the second of three. */
function twoSongs(more: readonly number[] = [0, 10, 20, 30]): Stand {
  const made = stand();
  made.heights = [100, 100, 100, 100, 100, 100, 100];
  made.lay([
    ...more.map((at) => ({ begins: at === 0 ? 'sheet' : 'block', sheet: 'one', at }) as const),
    ...[0, 10, 20].map(
      (at) => ({ begins: at === 0 ? 'sheet' : 'block', sheet: 'two', at }) as const,
    ),
  ]);
  return made;
}

describe('All sheets of a person on the stand', () => {
  it('begins each song on a page of its own and goes on to the next after its last page', () => {
    const made = twoSongs();
    expect(made.starts).toEqual([0, 2, 4, 6]);
    const seen: number[][] = [];
    for (let i = 0; i < 4; i += 1) {
      seen.push([made.sheet, made.ofSheet.page, made.ofSheet.count]);
      made.turn(1);
    }
    expect(seen).toEqual([
      [0, 1, 2],
      [0, 2, 2],
      [1, 1, 2],
      [1, 2, 2],
    ]);
  });

  it('makes gaps smaller so that the end of a sheet stands with its last line, and no smaller elsewhere', () => {
    const made = stand();
    const lay = (heights: number[]) => {
      made.heights = heights;
      made.lay([
        { begins: 'sheet', sheet: 'one', at: 0 },
        { begins: 'block', sheet: 'one', at: 10 },
        { begins: 'end', sheet: 'one', at: 20 },
      ]);
      return [made.starts, made.spacing];
    };
    expect(lay([90, 80, 20])).toEqual([[0], 10]);
    expect(lay([90, 80, 30])).toEqual([[0], 5]);
    expect(lay([90, 80, 40])).toEqual([[0, 1], 54]);
  });

  it('opens a song from the list of songs', () => {
    const made = twoSongs();
    made.open(1);
    expect([made.sheet, made.page]).toEqual([1, 2]);
    made.open(9);
    expect(made.sheet).toBe(1);
  });

  it('finds the place in the song again when larger words need more lines before it', () => {
    const made = twoSongs();
    made.turn(1);
    expect(made.blocks[made.first]).toMatchObject({ sheet: 'one', at: 20 });
    made.lay(twoSongs([0, 5, 10, 15, 20, 25, 30]).blocks);
    expect(made.blocks[made.block]).toMatchObject({ sheet: 'one', at: 20 });
    made.lay(twoSongs([0, 18]).blocks);
    expect(made.blocks[made.block]).toMatchObject({ sheet: 'one', at: 18 });
  });
});
