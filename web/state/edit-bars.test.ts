import { Editing, Keys, QUARTER, Time } from '#music';
import { describe, expect, it } from 'vitest';
import { countedAt, endingsOffered, KEY_GROUPS, METERS, pickups, readMeter, sayEndings, writeMeter } from './edit-bars.ts'; // prettier-ignore
import { blankSong } from './edit-words.ts';

const names = (meter: string, now = 0): string[] =>
  pickups(readMeter(meter), now).map(({ name }) => name);

/** A pickup is any part of a bar (common practice). */
describe('The pickups that are offered', () => {
  it('are by half beats in simple meters', () => {
    expect(names('3/4')).toEqual([
      'none',
      '½ beat: eighth',
      '1 beat: quarter',
      '1½ beats: dotted quarter',
      '2 beats: half',
      '2½ beats: 5 eighths',
    ]);
  });

  it('are by eighths where three make a beat', () => {
    expect(names('6/8')).toEqual(['none', 'eighth', 'quarter', '1 beat: dotted quarter', 'half', '5 eighths']); // prettier-ignore
  });

  it('are by eighths in halves too, and by half a beat where the beat is an eighth', () => {
    expect(names('2/2')).toHaveLength(8);
    expect(names('2/2').slice(0, 3)).toEqual(['none', 'eighth', '½ beat: quarter']);
    expect(names('3/8').slice(0, 3)).toEqual(['none', '½ beat: sixteenth', '1 beat: eighth']);
  });

  it('are shorter than a bar in every meter, and none where there are no bars of one length', () => {
    for (const meter of METERS.map(readMeter)) {
      const full = Time.barLength(meter);
      const lengths = pickups(meter, 0).map(({ length }) => length);
      if (full === null) expect(lengths).toEqual([0]);
      else expect(Math.max(...lengths)).toBeLessThan(full);
      expect(lengths.every(Number.isInteger)).toBe(true);
    }
  });

  it('hold the one that the song has', () => {
    expect(names('4/4', QUARTER / 4)).toContain('sixteenth, as it is');
  });
});

describe('What is chosen from on the page of bars', () => {
  it('reads every meter as it is written', () => {
    expect(METERS.map((meter) => writeMeter(readMeter(meter)))).toEqual(METERS);
  });

  it('has every mode on every pitch of the octave, and a song can be written in it', () => {
    const keys = KEY_GROUPS.flatMap((group) => group.keys);
    expect(keys).toHaveLength(7 * 12);
    const said = keys.map(Keys.sayKey);
    expect(new Set(said).size).toBe(7 * 12);
    expect(said).toEqual(expect.arrayContaining(['E dorian', 'G mixolydian']));
    for (const key of keys) {
      expect(Keys.readKey(Keys.writeKey(key))).toEqual(key);
      const done = Editing.apply(blankSong(), { do: 'key', bar: 0, key });
      expect(done.ok && done.value.keys[0]?.signature).toBe(Keys.signatureOf(key));
    }
    // E dorian has two sharps, as D major (the modes on the white keys, common practice).
    expect(Keys.signatureOf({ tonic: 'E', mode: 'dorian' })).toBe(2);
  });

  it('counts the felt beat until somebody says another', () => {
    const song = blankSong();
    expect(countedAt(song, 0)).toBe(QUARTER);
    const compound = { ...song, meters: [{ at: 0, meter: { beats: 6, unit: 8 } }] };
    expect(countedAt(compound, 0)).toBe(1.5 * QUARTER);
    const said = { ...compound, tempo: { beat: QUARTER / 2, perMinute: 120 } };
    expect(countedAt(said, 0)).toBe(QUARTER / 2);
  });

  it('has one ending more than the song, and four at least', () => {
    const { bars } = blankSong();
    expect(endingsOffered({ bars })).toEqual([1, 2, 3, 4]);
    const more = bars.map((bar, i) => (i === 2 ? { ...bar, endings: [1, 5] } : bar));
    expect(endingsOffered({ bars: more })).toEqual([1, 2, 3, 4, 5, 6]);
    expect(sayEndings([1, 3])).toBe('endings 1, 3');
  });
});
