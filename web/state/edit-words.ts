import { Editing, Time, VerseText, type Note, type Score, type Section } from '#music';

/** A new song: four bars of 4/4 in C, a verse with nothing in it. */
export function blankSong(): Score {
  return Editing.blank({
    title: '',
    key: { tonic: 'C', mode: 'major' },
    meter: { beats: 4, unit: 4 },
    bars: 4,
  });
}

/** The song as it stands in the book: one that nobody gave a title is called by its first words. */
export function named(score: Score): Score {
  if (score.facts.title.trim() !== '') return score;
  const [line = ''] = score.verses.length > 0 ? VerseText.linesOfVerse(score, 0) : [];
  const title = line.replace(/[\s,;:.!?]+$/, '') || 'Without a title';
  return { ...score, facts: { ...score.facts, title } };
}

/** The notes of the tune in a section that can begin a syllable: those that sound and are not held over. */
export function sungNotes(score: Score, section: Pick<Section, 'from' | 'to'>): Note[] {
  const { notes } = Time.melodyOf(score);
  return notes.filter(
    ({ at, pitches }, index) =>
      at >= section.from && at < section.to && pitches.length > 0 && !notes[index - 1]?.tie,
  );
}

/** The words of a verse in a section as they are typed; words that stand below the music as their lines. */
export function wordsIn(score: Score, section: Section, verse: number): string {
  const under = Editing.wordsOf(score, section.id, verse);
  if (under !== '') return under;
  return score.verses.find(({ number }) => number === verse)?.lines?.join('\n') ?? '';
}

/** Syllables of a typed text, with the notes that `_` holds. */
export function countSyllables(text: string): number {
  const words = text.replace(/_/g, ' _ ').trim().split(/\s+/).filter(Boolean);
  return words.reduce((sum, word) => {
    if (word === '_') return sum + 1;
    return sum + word.split('-').filter((part) => /[\p{L}\p{N}]/u.test(part)).length;
  }, 0);
}

/** `12 syllables for 14 notes: 2 notes are without words` */
export function sayCount(text: string, notes: number): string {
  const syllables = countSyllables(text);
  const count = (n: number, one: string): string => `${n} ${n === 1 ? one : `${one}s`}`;
  const both = `${count(syllables, 'syllable')} for ${count(notes, 'note')}`;
  if (syllables === notes) return `${both}.`;
  if (syllables > notes)
    return `${both}: ${count(syllables - notes, 'syllable')} too many. Part words with hyphens where a note falls, or write more notes.`;
  return `${both}: ${count(notes - syllables, 'note')} at the end ${notes - syllables === 1 ? 'is' : 'are'} without words. _ holds a syllable over one more note.`;
}
