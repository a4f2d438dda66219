import { describe, expect, it } from 'vitest';
import { words } from './missing-roles.ts';

describe('what a missing role means for the others', () => {
  it('says nothing where nobody plays or sings yet, and nothing where everybody is there', () => {
    expect(words([])).toEqual([]);
    expect(words(['leader'])).toEqual([]);
    expect(words(['keys', 'bass', 'guitar', 'drums', 'lead voice', 'harmony voice'])).toEqual([]);
  });

  it('says who carries what nobody plays', () => {
    expect(words(['keys', 'lead voice'])).toEqual([
      'No bass this week: the left hand at the keys has the low notes.',
      'No drums this week: the keys keep the pulse, where they strike the chord again at each bar line.',
    ]);
    expect(words(['guitar', 'bass', 'drums', 'lead voice'])).toEqual([
      'Nobody at the keys this week: the guitar alone has the chords.',
    ]);
    expect(words(['bass', 'drums', 'lead voice'])).toEqual([
      'Nobody at the keys this week, and no guitar: the bass has the roots, and nobody plays the chords.',
    ]);
  });

  it('says that the singers need their first note where nobody plays at all', () => {
    const [first, ...others] = words(['lead voice']);
    expect(first).toContain('somebody gives the singers their first note');
    expect(others).toEqual([]);
  });

  it('says who has the tune where nobody leads the singing', () => {
    const missing = (...roles: Parameters<typeof words>[0]) => words(roles).at(-1);
    expect(missing('keys', 'bass', 'drums', 'harmony voice')).toContain('harmony voices');
    expect(missing('keys', 'bass', 'drums')).toContain('nobody is down to sing the tune');
  });

  it('never speaks of a role that is there', () => {
    const all = ['keys', 'bass', 'guitar', 'drums', 'lead voice', 'harmony voice'] as const;
    const SAID = { keys: /Nobody at the keys/, bass: /No bass/, drums: /No drums/ } as const;
    for (let some = 0; some < 2 ** all.length; some++) {
      const roles = all.filter((_, i) => some & (1 << i));
      const said = words(roles).join(' ');
      for (const [role, sentence] of Object.entries(SAID))
        if (roles.includes(role as (typeof all)[number])) expect(said).not.toMatch(sentence);
    }
  });
});
