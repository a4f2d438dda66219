import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';
import type { Score } from '../../score/score.ts';
import { barAt, barLength, meterAt } from '../../score/time.ts';
import { TEXTURES } from '../arrangement.ts';
import { endingFrom, lastHeld, placeEnding, sayEnding, textureOfEnding } from './endings.ts';
import { playedChords } from '../played-chords.ts';

const GRACE = 'Amazing_Grace-New_Britain.abc';
const only = (score: Score) => {
  const section = score.sections.at(-1);
  if (!section) throw new Error('the song has no section');
  return section;
};

describe('the ending of a pass', () => {
  it.each(HYMN_FILES)(
    'begins on a bar line of %s, two to four full bars before its end',
    (file) => {
      const score = hymn(file);
      for (const section of score.sections) {
        const from = endingFrom(score, section);
        expect(barAt(score, from).at).toBe(from);
        const full = score.bars.filter(
          ({ at, length }) =>
            at >= from && at < section.to && length >= (barLength(meterAt(score, at)) ?? 0),
        );
        const own = score.bars.filter(({ at }) => at >= section.from && at < section.to);
        if (own.length > 3) expect(full.length).toBeGreaterThanOrEqual(2);
        expect(full.length).toBeLessThanOrEqual(4);
      }
    },
  );

  it('begins with the last phrase of the words', () => {
    // By the words: “Was blind, but now I see!” is sung from the upbeat to bar 13 on.
    const grace = hymn(GRACE);
    expect(barAt(grace, endingFrom(grace, only(grace))).number).toBe(13);
    // A phrase of one bar is too short: the two before the end are taken.
    const short = songOf('"C"c4|"C"c4|"F"c4|"C"c4|]', ['one two three, four.']);
    expect(barAt(short, endingFrom(short, only(short))).number).toBe(3);
  });

  it('is two bars where no words say, and no more than four', () => {
    const silent = songOf('"C"c4|"C"c4|"F"c4|"C"c4|"G"c4|"C"c4|]');
    expect(barAt(silent, endingFrom(silent, only(silent))).number).toBe(5);
    const long = songOf('c4|c4|c4|c4|c4|c4|c4|c4|]', ['one, two three four five six seven eight.']);
    expect(barAt(long, endingFrom(long, only(long))).number).toBe(5);
  });

  it('quiet is held, broad is never less full than the pass', () => {
    expect(TEXTURES.map((texture) => textureOfEnding('quiet', texture))).toEqual(
      TEXTURES.map(() => 'held'),
    );
    expect(TEXTURES.map((texture) => textureOfEnding('broad', texture))).toEqual([
      'every beat',
      'every beat',
      'every beat',
      'every beat',
      'swaying',
      'broken',
    ]);
  });

  it('holds its last chord from where it begins, over two bars at most', () => {
    const score = songOf('"C"c4|"F"c4|"G"c4|"C"c4|]', ['one two three four']);
    const placed = placeEnding(score, only(score), { ending: 'broad', texture: 'held' });
    const [, , , last] = score.bars;
    expect(placed && lastHeld(score, playedChords(score), placed)).toEqual({
      from: last?.at,
      to: (last?.at ?? 0) + (last?.length ?? 0),
      chord: 3,
    });
    const long = songOf('"C"c4|c4|c4|c4|]', ['one two, three four five']);
    const held = lastHeld(long, playedChords(long), { from: 0, to: only(long).to });
    expect(held?.from).toBe(long.bars[2]?.at);
  });

  it('is not written where its bars belong to a repeat', () => {
    const repeated = songOf('"C"c4|"F"c4|"C"c4:|', ['one two three']);
    const how = { ending: 'quiet', texture: 'leading' } as const;
    expect(placeEnding(repeated, only(repeated), how)).toBeNull();
  });

  it('is said with its bar', () => {
    const score = hymn(GRACE);
    const placed = placeEnding(score, only(score), { ending: 'broad', texture: 'leading' });
    expect(placed && sayEnding(score, placed)).toBe(
      'broad ending: from bar 13 full, every beat; broaden into the last bar; the last chord once, and hold it',
    );
  });
});
