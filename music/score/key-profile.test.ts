import { describe, expect, it } from 'vitest';
import { writeKey } from '../pitch/key.ts';
import { guess, MAJOR_PROFILE, MINOR_PROFILE, rank } from './key-profile.ts';

const turned = (profile: readonly number[], tonic: number): number[] =>
  profile.map((_, i) => profile[(i - tonic + 12) % 12] ?? 0);

describe('A key guessed from how long each pitch sounds', () => {
  it('is that of its own profile, by a correlation of 1', () => {
    for (let tonic = 0; tonic < 12; tonic += 1) {
      for (const [profile, mode] of [
        [MAJOR_PROFILE, 'major'],
        [MINOR_PROFILE, 'minor'],
      ] as const) {
        const [first] = rank(turned(profile, tonic));
        expect(first?.correlation).toBeCloseTo(1);
        expect(first?.key.mode).toBe(mode);
      }
    }
    expect(writeKey(guess(turned(MAJOR_PROFILE, 7)).key)).toBe('G major');
    expect(writeKey(guess(turned(MINOR_PROFILE, 4)).key)).toBe('E minor');
  });

  // The chapter's neighbours of C major by the correlation of whole profiles (Krumhansl 1990, chapter 2): A minor .651,
  // F and G major .591, C minor .511. The figures are quoted from memory.
  it('has the neighbours that the book gives for C major', () => {
    const ranked = rank([...MAJOR_PROFILE]).slice(1, 5);
    expect(ranked.map(({ key }) => writeKey(key))).toEqual([
      'A minor',
      'F major',
      'G major',
      'E minor',
    ]);
    const of = (name: string): number | undefined =>
      rank([...MAJOR_PROFILE]).find(({ key }) => writeKey(key) === name)?.correlation;
    expect(of('A minor')).toBeCloseTo(0.651, 2);
    expect(of('G major')).toBeCloseTo(0.591, 2);
    expect(of('C minor')).toBeCloseTo(0.511, 2);
  });

  // Worked example: "Key-finding algorithm", rnhart.net/articles/key-finding: lengths of the twelve pitches of a tune, and
  // R = -0.00009 for C major.
  it('has the correlation of a worked example', () => {
    const time = [432, 231, 0, 405, 12, 316, 4, 126, 612, 0, 191, 1];
    const found = rank(time).find(({ key }) => writeKey(key) === 'C major');
    expect(found?.correlation).toBeCloseTo(-0.00009, 5);
  });

  it('is said to be a guess, with what else it may be', () => {
    const found = guess(turned(MAJOR_PROFILE, 2));
    expect(found.sure).toBe(false);
    expect(found.others.map(writeKey)).toHaveLength(2);
    expect(found.reason).toContain('D major (1.00 of 1)');
    expect(found.reason).toContain('a guess');
  });

  it('is no guess at all where nothing sounds', () => {
    expect(guess(new Array<number>(12).fill(0)).reason).toContain('C major is only a beginning');
  });
});
