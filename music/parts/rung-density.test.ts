import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { pitchClassesOf } from '../pitch/chord-symbol.ts';
import { chords, correct, withChords } from '../score/reduction.ts';
import type { ChordAt, Score, Ticks } from '../score/score.ts';
import { endOf, feltBeat, meterAt } from '../score/time.ts';
import { chordsBeside, densityFor } from './rung-density.ts';

const keys = { role: 'keys', level: 'beginner' } as const;
const bass = { role: 'bass', level: 'beginner' } as const;

describe('How thin the chords of a rung are at most', () => {
  it.each([
    ['the first rungs: the arrangement’s', { right: 2, left: 2 }, 'bar'],
    ['the third of a hand: one or two a bar', { right: 3 }, 'half bar'],
    ['the fourth of either hand: every one', { left: 4 }, 'beat'],
    ['a section on the fourth', { sections: { a: { right: 4 } } }, 'beat'],
    ['a bass rung of somebody at the keys: no matter', { bass: 3 }, 'bar'],
  ] as const)('at the keys, %s', (_, rungs, density) => {
    expect(densityFor('bar', { ...keys, rungs })).toBe(density);
    expect(densityFor('beat', { ...keys, rungs })).toBe('beat');
    expect(densityFor('alone', { ...keys, rungs })).toBe('alone');
  });

  it('in the bass, every one from the third on, by level or by rung', () => {
    expect(densityFor('bar', bass)).toBe('bar');
    expect(densityFor('bar', { ...bass, rungs: { bass: 2, right: 4 } })).toBe('bar');
    expect(densityFor('bar', { ...bass, rungs: { bass: 3 } })).toBe('beat');
    expect(densityFor('half bar', { ...bass, level: 'advanced' })).toBe('beat');
  });
});

/** The longest time for which two sets are a half step apart where neither chord has both notes, tick by tick of a grid. */
function longestClash(score: Score, one: readonly ChordAt[], other: readonly ChordAt[]) {
  const starts = [...one, ...other].map(({ at }) => at);
  const moments = [...new Set([...starts, endOf(score)])].sort((a, b) => a - b);
  const notesAt = (all: readonly ChordAt[], at: Ticks): number[] => {
    const chord = all.findLast((each) => each.at <= at)?.chord;
    return chord ? pitchClassesOf(chord) : [];
  };
  let [since, longest]: [Ticks | null, number] = [null, 0];
  moments.forEach((at, place) => {
    const [a, b] = [notesAt(one, at), notesAt(other, at)];
    const apart = a.some((x) => b.some((y) => (x - y + 13) % 12 === 0 || (y - x + 13) % 12 === 0 ? !a.includes(y) && !b.includes(x) : false)); // prettier-ignore
    if (!apart || place === moments.length - 1) since = null;
    else {
      since ??= at;
      const beats = ((moments[place + 1] as Ticks) - since) / feltBeat(meterAt(score, since));
      longest = Math.max(longest, beats);
    }
  });
  return longest;
}

describe('Chords of players of different rungs', () => {
  it.each(HYMN_FILES)('are a half step apart for a felt beat at most: %s', (file) => {
    const score = hymn(file);
    const sets = (['bar', 'half bar', 'beat'] as const).map((each) =>
      chordsBeside(score, 'bar', each),
    );
    expect(sets[0]).toEqual(chords(score, { density: 'bar' }).chords);
    for (const [i, one] of sets.entries()) {
      for (const other of sets.slice(i + 1)) {
        expect(longestClash(score, one, other)).toBeLessThanOrEqual(1);
      }
    }
  });

  it('give way where that is needed, and nowhere else: seven chords of the hymns’ 689', () => {
    let left = 0;
    for (const score of HYMN_FILES.map(hymn)) {
      const every = chords(score, { density: 'beat' }).chords;
      const beside = chordsBeside(score, 'bar', 'beat');
      const starts = beside.map(({ at }) => at);
      left += every.filter(({ at }) => !starts.includes(at)).length;
      if (longestClash(score, every, chordsBeside(score, 'bar', 'half bar')) <= 1) {
        if (longestClash(score, every, chords(score, { density: 'bar' }).chords) <= 1) {
          expect(beside).toEqual(every);
        }
      }
    }
    expect(left).toBe(7);
  });

  it('keep what a person wrote', () => {
    const [file = ''] = HYMN_FILES;
    const found = withChords(hymn(file), { density: 'beat' });
    const mine = { root: 'F#', kind: 'major', degrees: [], bass: null } as const;
    const score = correct(found, found.chords[4]?.at ?? 0, mine);
    const written = score.chords.filter(({ guess }) => !guess);
    for (const density of ['bar', 'half bar', 'beat'] as const) {
      const kept = chordsBeside(score, 'bar', density).filter(({ guess }) => !guess);
      expect(kept).toEqual(written);
    }
  });
});
