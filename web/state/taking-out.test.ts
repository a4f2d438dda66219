import { describe, expect, it } from 'vitest';
import { waysOut } from './taking-out.ts';

describe('the ways out of a song', () => {
  it('offer MIDI by itself, and with all passes, count-in and click', () => {
    const midi = waysOut('a', true).filter(({ name }) => name.startsWith('MIDI'));
    expect(midi).toEqual([
      { name: 'MIDI', address: '/api/songs/a/file?as=midi' },
      {
        name: 'MIDI with count-in and click',
        address: '/api/songs/a/file?as=midi&passes=form&countIn=1&click=1',
      },
    ]);
  });

  it('are words alone where a song has no tune', () => {
    expect(waysOut('a', false).map(({ name }) => name)).toEqual(['words with chords']);
  });
});
