import { beforeEach, describe, expect, it } from 'vitest';
import { NAMES, NamesOnDevice, packetNames } from './note-names.svelte.ts';

describe('What notes are called on this device', () => {
  beforeEach(() => localStorage.clear());

  it('is English until it is chosen, and is remembered', () => {
    const names = new NamesOnDevice();
    expect(names.chosen).toBe('english');
    names.choose('german');
    expect(new NamesOnDevice().chosen).toBe('german');
  });

  it('is English where something else is kept', () => {
    localStorage.setItem('partbook.note-names', 'other');
    expect(new NamesOnDevice().chosen).toBe('english');
  });

  it('is said of a packet only where it is not English', () => {
    expect(packetNames('english')).toBe('');
    expect(packetNames('german')).toBe('Notes are called C D E F G A H in it, as on this device.');
    expect(packetNames('numbers')).toBe('Chords are numbers in it, as on this device.');
  });

  it('is chosen by the names themselves', () => {
    expect(NAMES.map(({ words }) => words)).toEqual([
      'C D E F G A B',
      'C D E F G A H',
      'do re mi fa sol la si',
      '1 2 3 4 5 6 7',
    ]);
  });
});
