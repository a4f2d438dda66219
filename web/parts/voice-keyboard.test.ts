import { flushSync, mount, unmount } from 'svelte';
import { afterEach, describe, expect, it, vi } from 'vitest';
import VoiceKeyboard from './VoiceKeyboard.svelte';
import { keyAfter, keysBetween, mark, middleOf, rangeOf, widthOf } from './voice-keyboard.ts';

describe('the keys between two notes', () => {
  it('are white and black as on a piano, whole white keys at both ends', () => {
    const keys = keysBetween('Bb3', 'C#4');
    expect(keys.map(({ pitch, isBlack }) => [pitch, isBlack])).toEqual([
      ['A3', false],
      ['Bb3', true],
      ['B3', false],
      ['C4', false],
      ['C#4', true],
      ['D4', false],
    ]);
    expect(widthOf(keys)).toBe(4);
    expect(keys.map(({ left }) => left)).toEqual([0, 0.7, 1, 2, 2.7, 3]);
  });

  it('have 52 white keys and 88 in all on a piano', () => {
    const keys = keysBetween('A0', 'C8');
    expect([keys.length, widthOf(keys)]).toEqual([88, 52]);
  });

  it('are named for eyes and for ears', () => {
    const [, flat] = keysBetween('A3', 'B3');
    expect([flat?.name, flat?.spoken]).toEqual(['B♭3', 'B flat 3']);
  });

  it('are found by sound, whatever the spelling', () => {
    const keys = keysBetween('C4', 'C5');
    expect(middleOf(keys, 'Db4')).toBe(middleOf(keys, 'C#4'));
    expect(middleOf(keys, 'C3')).toBeNull();
  });

  it.each([
    ['ArrowRight', 4, 5],
    ['ArrowLeft', 0, 0],
    ['PageUp', 0, 12],
    ['PageUp', 20, 24],
    ['Home', 9, 0],
    ['End', 9, 24],
    ['Enter', 9, null],
  ])('%s from %d leads to %s', (pressed, from, to) => {
    expect(keyAfter(pressed, from, 25)).toBe(to);
  });
});

describe('marking a range', () => {
  it('is a range once both ends are marked', () => {
    const first = mark({ low: null, high: null }, 'low', 'A3');
    expect(rangeOf(first)).toBeNull();
    expect(rangeOf(mark(first, 'high', 'D5'))).toEqual({ low: 'A3', high: 'D5' });
  });

  it('takes the other end along rather than crossing it', () => {
    expect(mark({ low: 'A3', high: 'D5' }, 'low', 'E5')).toEqual({ low: 'E5', high: 'E5' });
    expect(mark({ low: 'A3', high: 'D5' }, 'high', 'G3')).toEqual({ low: 'G3', high: 'G3' });
  });
});

describe('the keyboard on the screen', () => {
  let shown: Record<string, unknown> | undefined;
  const onpress = vi.fn();
  const onchange = vi.fn();
  function show(value: { low: string; high: string } | null) {
    shown = mount(VoiceKeyboard, {
      target: document.body,
      props: { low: 'C3', high: 'C6', name: 'Ruth', value, onpress, onchange },
    });
    flushSync();
    const key = (spoken: string) => {
      const found = [...document.querySelectorAll<HTMLElement>('button')].find((each) =>
        each.getAttribute('aria-label')?.startsWith(spoken),
      );
      if (!found) throw new Error(`no key ${spoken}`);
      return found;
    };
    const end = (which: 'low' | 'high') => {
      const radio = document.querySelector<HTMLInputElement>(`input[value=${which}]`);
      radio?.click();
      flushSync();
    };
    return { key, end };
  }
  afterEach(async () => {
    if (shown) await unmount(shown);
    onpress.mockReset();
    onchange.mockReset();
  });

  it('sounds a key that is touched and marks the end that is asked for', () => {
    const { key, end } = show({ low: 'A3', high: 'D5' });
    key('G 3').click();
    expect(onpress).toHaveBeenLastCalledWith('G3');
    expect(onchange).toHaveBeenLastCalledWith({ low: 'G3', high: 'D5' });
    end('high');
    key('E flat 5').click();
    expect(onchange).toHaveBeenLastCalledWith({ low: 'A3', high: 'Eb5' });
  });

  it('tells nobody of half a range', () => {
    const { key, end } = show(null);
    key('A 3').click();
    flushSync();
    expect(onchange).not.toHaveBeenCalled();
    expect(key('A 3').getAttribute('aria-label')).toBe('A 3, lowest');
    end('high');
    key('C 5').click();
    expect(onchange).toHaveBeenLastCalledWith({ low: 'A3', high: 'C5' });
  });

  it('goes on by itself to the end that is not marked yet', () => {
    const asked = () => document.querySelector<HTMLInputElement>('input:checked')?.value;
    const { key } = show(null);
    expect(asked()).toBe('low');
    key('A 3').click();
    flushSync();
    expect(asked()).toBe('high');
    key('C 5').click();
    expect(onchange).toHaveBeenLastCalledWith({ low: 'A3', high: 'C5' });
  });

  it('begins with the highest note where one likes, and goes on to the lowest', () => {
    const { key, end } = show(null);
    end('high');
    key('C 5').click();
    flushSync();
    key('A 3').click();
    expect(onchange).toHaveBeenLastCalledWith({ low: 'A3', high: 'C5' });
  });

  it('stays with an end that is marked anew, so that it can be felt for', () => {
    const { key } = show({ low: 'A3', high: 'D5' });
    key('G 3').click();
    flushSync();
    key('F 3').click();
    expect(onchange).toHaveBeenLastCalledWith({ low: 'F3', high: 'D5' });
  });

  it('goes by half steps with the arrow keys, sounding, and marks only when asked', () => {
    const { key } = show({ low: 'A3', high: 'D5' });
    expect(key('A 3').tabIndex).toBe(0);
    key('A 3').dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', bubbles: true }));
    flushSync();
    expect(document.activeElement).toBe(key('B flat 3'));
    expect(onpress).toHaveBeenLastCalledWith('Bb3');
    expect(onchange).not.toHaveBeenCalled();
    // Enter on a button is a click.
    key('B flat 3').click();
    expect(onchange).toHaveBeenLastCalledWith({ low: 'Bb3', high: 'D5' });
  });

  it('has one stop in the tab order and says which keys are marked', () => {
    const { key } = show({ low: 'A3', high: 'D5' });
    const stops = [...document.querySelectorAll('button')].filter((each) => each.tabIndex === 0);
    expect(stops).toHaveLength(1);
    expect(key('D 5').getAttribute('aria-pressed')).toBe('true');
    expect(key('D 5').getAttribute('aria-label')).toBe('D 5, highest');
    expect(document.querySelector('[role=group]')?.getAttribute('aria-label')).toBe(
      'Keyboard: marks Ruth’s lowest easy note',
    );
  });
});
