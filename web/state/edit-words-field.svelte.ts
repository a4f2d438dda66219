import { Editing, type Edit, type Score, type Section, type Ticks } from '#music';
import { wordsBegin, wordsIn } from './edit-words.ts';
import type { SongEditor } from './edit.svelte.ts';

interface Laid {
  readonly field: string;
  readonly text: string;
  /** The note that the words begin with. */
  readonly from: Ticks;
  /** The song as it was then. */
  readonly score: Score | null;
}

const fieldOf = ({ id }: Section, verse: number): string => `words ${id} ${verse}`;

/**
 * The words of the verse in hand as they are typed, laid under the notes letter by letter; where a section is sung the
 * same each time, its words for all verses.
 */
export class WordsField {
  /** What was typed last, as it was typed. */
  #laid = $state.raw<Laid | null>(null);
  /** Id of a section whose words are to differ from verse to verse, and have not done so yet. */
  byVerse = $state<string | null>(null);
  readonly #editor: SongEditor;

  constructor(editor: SongEditor) {
    this.#editor = editor;
  }

  /** Whether the words of a section are sung with every verse. */
  isForAll(section: Section): boolean {
    const { score } = this.#editor;
    return section.id !== this.byVerse && !!score && Editing.verseForAll(score, section) !== null;
  }

  /** The verse whose words are typed in a section. */
  verseIn(section: Section): number {
    const { score, verse } = this.#editor;
    const forAll = score && Editing.verseForAll(score, section);
    return section.id === this.byVerse ? verse : (forAll ?? verse);
  }

  /** As they stand in their field: as typed, else as they stand under the notes. */
  textIn(section: Section): string {
    const { score, typed } = this.#editor;
    const verse = this.verseIn(section);
    const own = typed[fieldOf(section, verse)] ?? this.#laidIn(section)?.text;
    return own ?? (score ? wordsIn(score, section, verse) : '');
  }

  /** The note that they begin with, as they were put there or stand. */
  beginIn(section: Section): Ticks {
    const { score } = this.#editor;
    const verse = this.verseIn(section);
    const begun = this.#laidIn(section)?.from;
    return begun ?? (score ? wordsBegin(score, section, verse) : section.from);
  }

  /** Lays them under the notes at once; what finds no note is kept in the field. */
  write(section: Section, text: string, from = this.beginIn(section)): void {
    const editor = this.#editor;
    const verse = this.verseIn(section);
    const field = fieldOf(section, verse);
    const later = from > section.from ? { from } : {};
    const edit: Edit = { do: 'words', section: section.id, verse, text, ...later };
    const isDone =
      this.#hasNone(section, text) || editor.edit([edit], { merge: `${field} ${from}` });
    // As typed, so that a hyphen at the end is not taken away under the hand.
    this.#laid = { field, text, from, score: editor.score };
    editor.type(field, isDone ? null : text);
  }

  #laidIn(section: Section): Laid | null {
    const { score } = this.#editor;
    const verse = this.verseIn(section);
    const laid = this.#laid;
    return laid?.field === fieldOf(section, verse) && laid.score === score ? laid : null;
  }

  /** There are none, and none are typed. */
  #hasNone(section: Section, text: string): boolean {
    const { score } = this.#editor;
    const verse = this.verseIn(section);
    return text.trim() === '' && score !== null && wordsIn(score, section, verse) === '';
  }
}
