import { describe, expect, it } from 'vitest';
import { Abc, Parts, type Part, type Role, type Score } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { turnAfter } from './turns.ts';

function partOf(role: Role, score: Score = hymn('Silent_Night-Stille_Nacht.abc')): Part {
  const key = score.keys[0]?.key;
  if (!key) throw new Error('a hymn has a key');
  const player = { id: 'i', name: 'Ines', role, level: 'beginner', reach: 12, voice: null } as const;
  const arrangement = { key, tempo: null, density: 'half bar', form: null } as const;
  const built = Parts.build(score, arrangement, player, { roles: [role] });
  if (!built.ok) throw new Error('there is such a part');
  return built.value;
} // prettier-ignore

describe('Where a page can be turned', () => {
  it('is where a section ends, and never after the last line', () => {
    const part = partOf('keys');
    const [first, second] = part.score.sections;
    expect(second?.from).toBe(first?.to);
    expect(turnAfter(part, first?.to ?? 0, false)).toBe('section');
    expect(turnAfter(part, first?.to ?? 0, true)).toBeNull();
  });

  it('is where a singer rests for a beat before or after the bar line, and not where the voice goes on', () => {
    const read = Abc.read(
      'X:1\nT:Rests\nM:4/4\nL:1/4\nK:C\n"C"CDEz|"F"FGAB|"C"c4|z"G"DEF|"C"C2C2|"G"D4|]\nw:one two three four five six seven eight nine ten eleven twelve oh my\n',
    );
    if (!read.ok || !read.value[0]) throw new Error('the tune is readable');
    const part = partOf('lead voice', read.value[0]);
    const after = (bar: number) => {
      const found = part.score.bars.find(({ number }) => number === bar);
      return turnAfter(part, (found?.at ?? 0) + (found?.length ?? 0), false);
    };
    expect([1, 2, 3, 4, 5].map(after)).toEqual(['rest', null, 'rest', null, null]);
  });
});
