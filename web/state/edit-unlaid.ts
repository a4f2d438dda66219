import { Editing, NumberWords, type Score } from '#music';

const FIELD = /^words (?<section>.+) (?<verse>\d+)$/;

/** Syllables and held notes that are typed in a field of words and not in the song; null: it is another field. */
function missingOf(score: Score, field: string, text: string): number | null {
  const { section, verse } = FIELD.exec(field)?.groups ?? {};
  if (section === undefined || verse === undefined) return null;
  const laid = Editing.stepsOf(Editing.wordsOf(score, section, Number(verse))).length;
  return Math.max(0, Editing.stepsOf(text).length - laid);
}

/**
 * What is typed and could not be laid into the song, so that only this device has it: `two syllables are not in the song
 * yet`; empty: nothing.
 * @param typed by field, as `SongEditor.typed`
 */
export function sayUnlaid(score: Score, typed: Readonly<Record<string, string>>): string {
  const fields = Object.entries(typed);
  if (fields.length === 0) return '';
  const missing = fields.map(([field, text]) => missingOf(score, field, text));
  const syllables = missing.reduce<number>((sum, each) => sum + (each ?? 0), 0);
  // A text that cannot be read, or words of which none is more than before, are not counted.
  if (syllables === 0 || missing.includes(null)) return 'what is typed last is not in the song yet';
  const many = NumberWords.counted(syllables, 'syllable', 'syllables');
  return `${many} ${syllables === 1 ? 'is' : 'are'} not in the song yet`;
}
