import { WordsAndChords, type Problem, type ReadLine, type Score, type TextMark } from '#music';
import { carryMarks, tapLine, tapWord } from './import-marks.ts';
import type { SongEditor } from './edit.svelte.ts';

interface Typed {
  readonly text: string;
  readonly marks: readonly TextMark[];
  /** The song as it was read from it, or stood when it could not be read. */
  readonly score: Score | null;
}

/** What a text does not hold stays with the song as it was. */
export function readInto(before: Score, read: Score): Score {
  const facts = Object.fromEntries(
    Object.entries(read.facts).filter(([, value]) =>
      Array.isArray(value) ? value.length > 0 : value !== null && value !== '',
    ),
  );
  return {
    ...read,
    facts: { ...before.facts, ...facts },
    ...(before.compass ? { compass: before.compass } : {}),
  };
}

/** A song of words and chords as the text that it is written in: what is typed is the song at once, where it can be read. */
export class WordsText {
  #typed = $state.raw<Typed | null>(null);
  readonly #editor: SongEditor;

  /** Of the page's own while it is what the song was read from, else written out anew (undo, another title). */
  readonly text: string = $derived.by(() => {
    const { score, typed } = this.#editor;
    if (this.#typed && this.#typed.score === score) return this.#typed.text;
    const unread = typed['text'];
    if (unread !== undefined && !this.#typed) return unread;
    return score ? WordsAndChords.write(score) : '';
  });
  readonly marks: readonly TextMark[] = $derived.by(() =>
    this.#typed && this.#typed.score === this.#editor.score ? this.#typed.marks : [],
  );
  readonly lines: readonly ReadLine[] = $derived(
    WordsAndChords.lines(this.text, { marks: this.marks }),
  );
  readonly #read = $derived(WordsAndChords.read(this.text, { marks: this.marks }));
  readonly problems: readonly Problem[] = $derived(this.#read.ok ? [] : this.#read.problems);
  readonly warnings: readonly Problem[] = $derived(this.#read.ok ? this.#read.warnings : []);

  constructor(editor: SongEditor) {
    this.#editor = editor;
  }

  write(text: string): void {
    this.#set(text, carryMarks(this.marks, this.text, text), 'the text');
  }

  /** One tap on a line, or on a word of it (1-based column): it is taken for the next thing that it can be. */
  tap(line: number, column?: number): void {
    const tapped =
      column === undefined
        ? tapLine(this.text, this.marks, line)
        : tapWord(this.text, this.marks, line, column);
    if (tapped) this.#set(this.text, tapped.marks, `what line ${line} is`);
  }

  #set(text: string, marks: readonly TextMark[], what: string): void {
    const before = this.#editor.score;
    if (!before) return;
    const read = WordsAndChords.read(text, { marks });
    if (read.ok) {
      this.#editor.rewrite(readInto(before, read.value), what, 'text');
      this.#editor.type('text', null);
    } else {
      // It stays as it is typed; the song stays as it was last read.
      this.#editor.type('text', text);
    }
    this.#typed = { text, marks, score: this.#editor.score };
  }
}
