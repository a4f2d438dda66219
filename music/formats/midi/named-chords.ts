import { read as readChord } from '../../pitch/chord-symbol.ts';
import type { ChordAt, Ticks } from '../../score/score.ts';
import type { SmfText } from './smf-track.ts';

/** What stands for "no chord" among the texts. */
export const NO_CHORD = 'N.C.';

/**
 * Chord symbols from the texts of a track that has nothing else in words: `Am7/G`, each until the next. Null: one of the texts is no
 * chord, so they are something else.
 */
export function namedChords(
  texts: readonly SmfText[],
  ticks: (moment: number) => Ticks,
  end: Ticks,
): ChordAt[] | null {
  const said = texts.filter(({ kind }) => kind === 'text');
  if (said.length === 0) return null;
  const chords: ChordAt[] = [];
  for (const { at, text } of said) {
    const isNone = text === NO_CHORD;
    const read = isNone ? null : readChord(text);
    if (read && !read.ok) return null;
    const chord = read?.ok ? read.value : null;
    if (chords.at(-1)?.at !== ticks(at)) chords.push({ at: ticks(at), length: 0, chord });
  }
  return chords
    .filter(({ at }) => at < end)
    .map((chord, i, all) => ({ ...chord, length: (all[i + 1]?.at ?? end) - chord.at }));
}
