import { ChordSymbol, Keys, SungLines, type Score } from '#music';

/** A pass as it is sung and played: lines of words, each with its chords and the letter each stands over. */
export interface PlayedPass {
  readonly name: string;
  readonly key: string;
  readonly lines: readonly {
    readonly words: string;
    /** [letters of the line before it, spaces not counted; chord]; `~`: on a held note or a rest. */
    readonly chords: readonly string[];
  }[];
}

/** A key that is only guessed is not written. */
function sayKeyAt(score: Score, at: number): string {
  const key = score.keys.findLast((each) => each.at <= at);
  return key?.sure ? Keys.writeKey(key.key) : 'a guess';
}

/** What text can hold of a score, for comparing one before and after. */
export function playedPasses(score: Score): PlayedPass[] {
  return SungLines.sungPasses(score).map((pass) => ({
    name: pass.name,
    key: sayKeyAt(score, pass.lines[0]?.[0]?.at ?? 0),
    lines: pass.lines.map((line) => {
      let words = '';
      let letters = 0;
      let joined = true;
      const chords: string[] = [];
      for (const { text, goesOn, chord } of line) {
        const clean = text.replace(/[\s_]+/g, ' ').trim();
        if (chord !== null) {
          const at = score.chords[chord];
          const name = at?.chord ? ChordSymbol.write(at.chord) : 'N.C.';
          chords.push(`${letters}${clean === '' ? '~' : ''} ${name}`);
        }
        if (clean === '') continue;
        words += (joined ? '' : ' ') + clean;
        letters += clean.replaceAll(' ', '').length;
        joined = goesOn;
      }
      return { words, chords };
    }),
  }));
}
