import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Abc, Keys, Room, WordsAndChords, type Key, type RoomShares, type Score } from '#music';
import type { Arrangement } from '#server/contract/arrangements.ts';
import type { Song } from '#server/contract/songs.ts';
import { RoomPicture, groupsOf, sizeOf } from './room.svelte.ts';
import { SongPage } from './song.svelte.ts';
import { TeamState } from './team.svelte.ts';

const read = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
const hymn = read.ok ? read.value[0] : undefined;
if (!hymn) throw new Error('the hymn is there');

const keyOf = (text: string): Key => {
  const found = Keys.readKey(text);
  if (!found) throw new Error(`no key ${text}`);
  return found;
};

const LAMP = 'The Evening Lamp\n\nVerse 1\nG        C    G\nA lamp in the window\n';

function pictureOf(score: Score, key: Key, room: RoomShares | null = null) {
  const song = new SongPage('s');
  song.song = { id: 's', version: 1, score, corrections: [] } as unknown as Song;
  const show = (to: Key) => (song.arrangement = { key: to } as Arrangement);
  show(key);
  const team = new TeamState();
  team.team = { id: 't', name: 'Mill Lane', demo: null, congregation: null, room, version: 1 };
  return { show, team, picture: new RoomPicture(song, team) };
}

describe('The picture of a room', () => {
  it('has every note of the tune in the key on the screen, with the words of the first verse', () => {
    const { picture } = pictureOf(hymn, keyOf('F'));
    expect(picture.notes[0]).toMatchObject({ pitch: 'C4', bar: 0, word: 'A-' });
    expect(picture.notes.map(({ word }) => word).join(' ')).toContain('A- maz- ing  grace! How');
    expect(picture.signature).toBe(-1);
    expect(picture.missing).toBeNull();
  });

  it('compares twelve keys and says of the one on the screen what it is worth', () => {
    const { picture, show } = pictureOf(hymn, keyOf('F'));
    expect(picture.rows).toHaveLength(12);
    expect(picture.current).toEqual(Room.inKey(hymn, keyOf('F'), Room.USUAL_ROOM));
    expect(picture.sentences[0]).toMatch(/^In F major \d+\u00a0% of the room is expected/);
    show(keyOf('C'));
    expect(picture.sentences[0]).toMatch(/^In C major /);
    expect(picture.notes[0]?.pitch).toBe('G4');
  });

  it('changes with the people of the room, and says when they are invented', () => {
    const { picture, team } = pictureOf(hymn, keyOf('C'));
    expect(picture.isUsual).toBe(true);
    const before = picture.notes.map(({ share }) => share);
    team.team = team.team && { ...team.team, room: { 'women over 65': 40, 'men over 65': 20 } };
    expect(picture.isUsual).toBe(false);
    const after = picture.notes.map(({ share }) => share);
    // C major puts the tune up to G5: of people over 65 fewer are left there.
    expect(Math.min(...after)).toBeLessThan(Math.min(...before));
    expect(picture.groups.map(({ id }) => id)).toEqual(['women over 65', 'men over 65']);
    expect(picture.rows[0]?.groups).toHaveLength(2);
  });

  it('keeps the spelling of the key on the screen', () => {
    const { picture } = pictureOf(hymn, keyOf('Gb'));
    expect(picture.current?.key).toEqual(keyOf('Gb'));
    expect(picture.signature).toBe(-6);
  });

  it('says what is missing: the tune, or the people', () => {
    const text = WordsAndChords.read(LAMP);
    if (!text.ok) throw new Error('the words are read');
    expect(pictureOf(text.value, keyOf('G')).picture.missing).toBe('tune');
    const empty = pictureOf(hymn, keyOf('G'), { women: 0 }).picture;
    expect(empty.missing).toBe('people');
    expect(empty.sentences).toEqual([]);
  });

  it('knows each group’s part', () => {
    expect(sizeOf(Room.USUAL_ROOM)).toBe(100);
    expect(groupsOf({ women: 3, men: 1, children: 0 })).toMatchObject([
      { id: 'women', part: 0.75 },
      { id: 'men', part: 0.25 },
    ]);
    expect(groupsOf({})).toEqual([]);
  });
});
