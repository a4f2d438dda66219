import { Editing, Time, VerseText, type Note, type Score, type Section, type Ticks } from '#music';

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

/** The notes of the tune in a section that can bear a syllable, from a place of it on. */
export function sungNotes(score: Score, section: Section, from: Ticks = section.from): Note[] {
  const { notes } = Time.melodyOf(score);
  return Editing.notesForWords(score, section).flatMap((i) => notes[i] ?? []).filter(({ at }) => at >= from); // prettier-ignore
}

/** The note that the words of a verse begin with in a section; where it has none its start. */
export function wordsBegin(score: Score, section: Section, verse: number): Ticks {
  return Editing.wordsBegin(score, section.id, verse) ?? section.from;
}

/** The words of a verse in a section as they are typed; words that stand below the music as their lines. */
export function wordsIn(score: Score, section: Section, verse: number): string {
  const under = Editing.wordsOf(score, section.id, verse);
  if (under !== '') return under;
  return score.verses.find(({ number }) => number === verse)?.lines?.join('\n') ?? '';
}

/** Syllables of a typed text, and the further notes that `_` holds one over. */
export function countSyllables(text: string): { syllables: number; held: number } {
  const steps = Editing.stepsOf(text);
  const held = steps.filter((step) => step === 'hold').length;
  return { syllables: steps.length - held, held };
}

const count = (n: number, one: string): string => `${n} ${n === 1 ? one : `${one}s`}`;

/** `12 syllables for 14 notes: 2 notes at the end are without words yet.` */
export function sayCount(text: string, notes: number): string {
  const { syllables, held } = countSyllables(text);
  const holds = held === 0 ? '' : ` and ${count(held, 'held note')}`;
  const both = `${count(syllables, 'syllable')}${holds} for ${count(notes, 'note')}`;
  const over = syllables + held - notes;
  if (over === 0) return `${both}.`;
  if (over > 0) {
    const many = held > 0 ? `${over}` : count(over, 'syllable');
    return `${both}: ${many} too many. Part words with hyphens only where a note falls, or write more notes.`; // prettier-ignore
  }
  return `${both}: ${count(-over, 'note')} at the end ${over === -1 ? 'is' : 'are'} without words yet. _ holds a syllable over one more note.`; // prettier-ignore
}

/** What is offered for the begin of words: the note at the cursor, where it is one of the section and another. */
export interface Begin {
  /** The words begin with this note now. */
  readonly now: Ticks;
  /** `now` is the first note that can bear words. */
  readonly isFirst: boolean;
  /** The note at the cursor, to begin with instead. */
  readonly here: Ticks | null;
}

/** @param from where the words begin now; a rest before their first note counts as that note */
export function beginOf(score: Score, section: Section, from: Ticks, at: Ticks): Begin {
  const all = sungNotes(score, section);
  const first = all[0]?.at ?? section.from;
  const now = all.find((note) => note.at >= from)?.at ?? first;
  const isHere = all.some((note) => note.at === at) && at !== now;
  return { now, isFirst: now === first, here: isHere ? at : null };
}
