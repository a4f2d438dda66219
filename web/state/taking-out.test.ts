import { describe, expect, it } from 'vitest';
import { allPartsOut, everyonesPartsOut, partWaysOut, waysOut } from './taking-out.ts';

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

describe('the ways out of parts', () => {
  const wish = { role: 'keys', level: 'beginner', key: 'F', player: null, density: null, names: 'english' } as const; // prettier-ignore

  it('offer the part that is open, as notes and as sound', () => {
    const ways = partWaysOut('a', wish);
    expect(ways.map(({ name }) => name)).toEqual(['MusicXML', 'compressed MusicXML', 'MIDI', 'MIDI with count-in and click']); // prettier-ignore
    expect(ways[0]?.address).toBe('/api/songs/a/part?role=keys&level=beginner&key=F&names=english&as=musicxml'); // prettier-ignore
  });

  it('offer all parts of a person in one zip, by the service and by a set link, as they are read', () => {
    expect(allPartsOut({ service: 's' }, 'm', null)[0]).toEqual({
      name: 'MusicXML and MIDI',
      address: '/api/services/s/pages/m/files',
    });
    expect(allPartsOut({ link: 'l' }, 'm', 'a.C')[1]?.address).toBe(
      '/api/set/l/pages/m/files?as=musicxml&played=a.C',
    );
    expect(everyonesPartsOut('s', [{ id: 'm', name: 'Ines' }])).toEqual([
      { name: 'Ines', address: '/api/services/s/pages/m/files' },
    ]);
  });
});
