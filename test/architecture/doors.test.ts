import { describe, expect, it } from 'vitest';
import * as music from '#music';
import * as direct from '../../music/index.ts';

describe('The door of the music core', () => {
  it('opens by its name and by its path alike', () => {
    expect(Object.keys(music)).toEqual(Object.keys(direct));
    expect(music.Pitches.midiOf('C4')).toBe(60);
  });
});
