import { describe, expect, it } from 'vitest';
import { commandOf, KEY_LIST } from './edit-keys.ts';

describe('A pressed key', () => {
  it.each([
    [{ key: 'g' }, { to: 'letter', letter: 'G', add: false }],
    [
      { key: 'G', shiftKey: true },
      { to: 'letter', letter: 'G', add: true },
    ],
    [{ key: 'b' }, { to: 'letter', letter: 'B', add: false }],
    [{ key: '3' }, { to: 'length', base: 4 }],
    [{ key: '5' }, { to: 'length', base: 16 }],
    [{ key: '.' }, { to: 'dot' }],
    [{ key: 't' }, { to: 'triplet' }],
    [{ key: '0' }, { to: 'rest' }],
    [{ key: 'r' }, { to: 'rest' }],
    [{ key: '-' }, { to: 'tie' }],
    [{ key: '#' }, { to: 'alter', alter: 1 }],
    [{ key: '_' }, { to: 'alter', alter: -1 }],
    [{ key: 'n' }, { to: 'alter', alter: 0 }],
    [{ key: 'ArrowUp' }, { to: 'pitch', by: 'step', direction: 1 }],
    [
      { key: 'ArrowDown', altKey: true },
      { to: 'pitch', by: 'semitone', direction: -1 },
    ],
    [
      { key: 'ArrowUp', shiftKey: true },
      { to: 'pitch', by: 'octave', direction: 1 },
    ],
    [{ key: 'ArrowLeft' }, { to: 'move', by: 'note', direction: -1 }],
    [
      { key: 'ArrowRight', ctrlKey: true },
      { to: 'move', by: 'bar', direction: 1 },
    ],
    [{ key: 'z', ctrlKey: true }, { to: 'undo' }],
    [{ key: 'Z', ctrlKey: true, shiftKey: true }, { to: 'redo' }],
    [{ key: 'z', metaKey: true }, { to: 'undo' }],
    [{ key: 'Backspace' }, { to: 'erase' }],
  ])('%o asks for %o', (press, command) => {
    expect(commandOf(press)).toEqual(command);
  });

  it('that is a flat on a layout where Alt makes another letter of B is known by its place', () => {
    expect(commandOf({ key: '∫', code: 'KeyB', altKey: true })).toEqual({ to: 'alter', alter: -1 });
  });

  it.each([
    { key: 'c', ctrlKey: true },
    { key: 'Tab' },
    { key: 'Escape' },
    { key: 'F5' },
    { key: 'd', altKey: true },
    { key: 'r', ctrlKey: true },
  ])('%o is left to the browser', (press) => {
    expect(commandOf(press)).toBeNull();
  });

  it('does what the help sheet says of it, for every single key on it', () => {
    const single = KEY_LIST.flatMap(([keys]) => keys.split(/ and | or | /)).filter(
      (key) => key.length === 1 && !/[–←→↑↓]/.test(key),
    );
    expect(single.length).toBeGreaterThan(20);
    for (const key of single) expect(commandOf({ key }), key).not.toBeNull();
  });
});
