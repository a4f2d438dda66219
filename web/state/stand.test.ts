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
