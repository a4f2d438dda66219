import { describe, expect, it } from 'vitest';
import { ChordSymbol, WordsAndChords, type Score } from '#music';

function song(text: string): Score {
  const result = WordsAndChords.read(text);
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

/** Words with their chords where they fall: `re[G]lieved`. */
function sung(score: Score): string {
  const notes = score.voices[0]?.notes ?? [];
  return notes
    .map(({ at, syllables }) => {
      const found = score.chords.find((each) => each.at === at);
      const over = found ? `[${found.chord ? ChordSymbol.write(found.chord) : 'N.C.'}]` : '';
      return `${over}${syllables?.[0]?.text ?? ''}${syllables?.[0]?.hyphen ? '' : ' '}`;
    })
    .join('')
    .trim();
}

/** Common practice of lead sheets: a word whose syllables have chords is drawn apart after its hyphen. */
describe('A word that is drawn apart', () => {
  it.each([
    ['over each syllable', 'D7/C  G', 're-   lieved', '[D7/C]re[G]lieved'],
    ['over its second syllable', '      G', 're-   lieved', 're[G]lieved'],
    ['held between its syllables', 'D   G   C', 'glo-    ry', '[D]glo[G] [C]ry'],
    ['in three', 'D    G      C', 'be-  liev-  ing', '[D]be[G]liev[C]ing'],
    ['in capitals', 'D    G', 'HO-  LY', '[D]HO[G]LY'],
    ['a dash and its one space', 'D     G', 'Lord- how sweet', '[D]Lord- [G]how sweet'],
    ['a dash before a capital', 'D     G', 'Lord-  How sweet', '[D]Lord- [G]How sweet'],
    ['a word with a hyphen', 'D    G', 'self-same way', '[D]self-[G]same way'],
  ])('is one word, with its chords %s', (_, chords, words, wanted) => {
    expect(sung(song(`T\n\n${chords}\n${words}`))).toBe(wanted);
  });

  it('stays as it is typed where no chords stand above it', () => {
    expect(sung(song('T\n\nre-   lieved of all their care'))).toContain('re- lieved');
  });

  it('is so written, and comes back', () => {
    const text = ['D7/C  G', 're-   lieved', '', 'D    Bm    A7   D', 'Holy, holy, ho-  ly'];
    const typed = song(`Title: T\n\n${text.join('\n')}\n`);
    const written = WordsAndChords.write(typed);
    expect(written).not.toContain('_');
    expect(written).toMatch(/re- +lieved/);
    expect(written).toMatch(/ho- {2}ly/);
    expect(sung(song(written))).toBe(sung(typed));
  });
});
