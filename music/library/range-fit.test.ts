import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Keys, LibraryEntries, NO_DETAILS, Pitches, RangeFit, Transpose } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

const SHARPS = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
const named = (midi: number): string => `${SHARPS[midi % 12] ?? 'C'}${Math.floor(midi / 12) - 1}`;

const songs = HYMN_FILES.map(hymn).map((score) => ({
  score,
  entry: LibraryEntries.of(score, NO_DETAILS),
}));

/** By the whole song in each key: the lowest and highest of all its melody notes, as written or an octave below. */
function keysThatFit(
  { score, entry }: (typeof songs)[number],
  low: number,
  high: number,
  accidentals: number,
): string[] {
  return Keys.keysToOffer(entry.key.mode)
    .filter((key) => Math.abs(Keys.signatureOf(key)) <= accidentals)
    .filter((key) => {
      const moved = Transpose.score(score, key);
      const notes = moved.voices
        .filter(({ id }) => id === moved.melody)
        .flatMap((voice) => voice.notes.flatMap(({ pitches }) => pitches.slice(-1)))
        .map(Pitches.midiOf);
      const [bottom, top] = [Math.min(...notes), Math.max(...notes)];
      return [0, 12].some((down) => bottom - down >= low && top - down <= high);
    })
    .map(Keys.writeKey);
}

describe('whether a tune sits inside a range', () => {
  it('is what writing the song out in every key says, for every hymn', () => {
    fc.assert(
      fc.property(
        fc.nat({ max: songs.length - 1 }),
        fc.integer({ min: 40, max: 64 }),
        fc.integer({ min: 6, max: 26 }),
        fc.integer({ min: 0, max: 7 }),
        (which, low, width, accidentals) => {
          const song = songs[which] as (typeof songs)[number];
          const fitting = keysThatFit(song, low, low + width, accidentals);
          const asked = { low: named(low), high: named(low + width), accidentals };
          const found = RangeFit.nearest(song.entry, song.entry.key, asked);
          if (found === null) expect(fitting).toEqual([]);
          else expect(fitting).toContain(Keys.writeKey(found));
        },
      ),
      { numRuns: 120 },
    );
  });

  it('names the nearest key: Amazing Grace, D4–D5 in G, inside C4–C5 is in F', () => {
    const grace = songs.find(({ entry }) => entry.tune === 'New Britain');
    if (!grace) throw new Error('it is one of the hymns');
    const { entry } = grace;
    expect(entry.range).toEqual({ low: 'D4', high: 'D5' });
    const inside = (low: string, high: string) =>
      RangeFit.nearest(entry, entry.key, { low, high })?.tonic ?? null;
    expect(inside('C4', 'C5')).toBe('F');
    expect(inside('C4', 'D5')).toBe('G');
    expect(inside('D3', 'D4')).toBe('G');
    expect(inside('C4', 'B4')).toBe(null);
  });

  it('says nothing of a tune whose height is not known', () => {
    const [song] = songs;
    if (!song) throw new Error('there is one');
    const entry = { ...song.entry, range: null };
    expect(RangeFit.nearest(entry, entry.key, { low: 'C2', high: 'C7' })).toBe(null);
  });
});
