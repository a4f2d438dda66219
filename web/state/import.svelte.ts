import {
  Abc,
  WordsAndChords,
  type Key,
  type Problem,
  type ReadLine,
  type Result,
  type Score,
  type TextMark,
} from '#music';
import { createSong } from '#web/api/songs.ts';
import type { Trouble } from '#web/api/http.ts';
import { base64Of, textOf, type GivenFile } from './dropped.ts';
import { keptDraft, keepDraft } from './import-draft.ts';
import { CALLED, carryMarks, formatOf, tapLine, tapWord, type SongFormat } from './import-marks.ts';
import { notices } from './notice.svelte.ts';

function read(text: string, format: SongFormat, marks: readonly TextMark[]): Result<Score[]> {
  if (format === 'abc') return Abc.read(text);
  const result = WordsAndChords.read(text, { marks });
  return result.ok ? { ...result, value: [result.value] } : result;
}

const kept = keptDraft();

/**
 * A song on its way in: the text as it stands, what is read from it, and what is doubted. Outlives the page, so
 * that leaving it and coming back loses nothing.
 */
class Importing {
  text = $state(kept.text);
  name = $state('');
  /** How a person says the text is read; null: as it looks. */
  said = $state<SongFormat | null>(kept.said);
  /** What a person said of lines and words. */
  marks = $state.raw<readonly TextMark[]>(kept.marks);
  /** Which tune of a file that holds several. */
  tune = $state(0);
  /** The key that someone chose where the file leaves a doubt. */
  answer = $state.raw<Key | null>(null);
  busy = $state(false);
  trouble = $state.raw<Trouble | null>(null);
  /** Files that wait their turn. */
  waiting = $state.raw<readonly GivenFile[]>([]);
  /** The file that the text came from. */
  #given: { readonly text: string; readonly bytes: Uint8Array } | null = null;

  readonly format: SongFormat = $derived(this.said ?? formatOf(this.text));
  readonly result = $derived(
    this.text.trim() === '' ? null : read(this.text, this.format, this.marks),
  );
  /** What every line of words with chords was taken for. */
  readonly lines: readonly ReadLine[] = $derived(
    this.format === 'words' ? WordsAndChords.lines(this.text, { marks: this.marks }) : [],
  );
  readonly tunes: readonly Score[] = $derived(this.result?.ok ? this.result.value : []);
  readonly score: Score | null = $derived(this.tunes[this.tune] ?? this.tunes[0] ?? null);
  readonly warnings: readonly Problem[] = $derived(this.result?.ok ? this.result.warnings : []);
  readonly problems: readonly Problem[] = $derived(
    this.result && !this.result.ok ? this.result.problems : [],
  );

  /** Takes files in: the first is shown, the others wait. */
  take(files: readonly GivenFile[]): void {
    const [first, ...others] = files;
    if (!first) return;
    this.waiting = others;
    this.#show(first);
  }

  write(text: string): void {
    this.marks = carryMarks(this.marks, this.text, text);
    this.text = text;
    this.trouble = null;
    if (this.tune >= this.tunes.length) this.tune = 0;
    this.#remember();
  }

  /** Reads the text as the other thing. */
  readAs(format: SongFormat): void {
    this.said = format === formatOf(this.text) ? null : format;
    [this.tune, this.answer, this.trouble] = [0, null, null];
    this.#remember();
  }

  /** One tap on a line, or on a word of it (1-based column): it is taken for the next thing that it can be. */
  tap(line: number, column?: number): void {
    const before = this.marks;
    const tapped =
      column === undefined
        ? tapLine(this.text, before, line)
        : tapWord(this.text, before, line, column);
    if (!tapped) return;
    this.#mark(tapped.marks);
    const what = column === undefined ? `Line ${line}` : `That word of line ${line}`;
    notices.say(`${what} is ${CALLED[tapped.as]} now.`, () => this.#mark(before));
  }

  choose(tune: number): void {
    this.tune = tune;
    this.answer = null;
  }

  /** Stores the song that is shown. Returns its id, or null where it did not work (then `trouble` says why). */
  async keep(): Promise<string | null> {
    if (!this.score || this.busy) return null;
    this.busy = true;
    const answers = this.answer ? { key: this.answer } : {};
    const { format, text } = this;
    const answer = await createSong(
      format === 'abc'
        ? { format, ...this.#source(), answers, tune: this.tune }
        : { format, text, answers, marks: this.marks.map((mark) => ({ ...mark })) },
    );
    this.busy = false;
    if (!answer.ok) {
      this.trouble = answer.trouble;
      return null;
    }
    const [next, ...others] = this.waiting;
    this.waiting = others;
    if (next) this.#show(next);
    else this.clear();
    return answer.value.id;
  }

  /** Empties the page. Returns the way back. */
  clear(): () => void {
    const { name, text, said, marks } = this;
    [this.name, this.tune, this.answer] = ['', 0, null];
    [this.said, this.marks] = [null, []];
    this.write('');
    return () => {
      this.name = name;
      this.write(text);
      [this.said, this.marks] = [said, marks];
      this.#remember();
    };
  }

  #show(file: GivenFile): void {
    this.name = file.name;
    this.tune = 0;
    this.answer = null;
    [this.said, this.marks] = [null, []];
    const text = textOf(file.bytes);
    this.#given = { text, bytes: file.bytes };
    this.write(text);
  }

  /**
   * The file as it was given, to be kept byte for byte, as long as nobody changed its text; else the text. Also the
   * text where the bytes would be read otherwise than shown: quotes and dashes of Windows-1252 are no Latin-1.
   */
  #source(): { readonly bytes: string } | { readonly text: string } {
    const { text } = this;
    const bytes = this.#given?.text === text ? this.#given.bytes : null;
    return bytes && Abc.decode(bytes).text === text ? { bytes: base64Of(bytes) } : { text };
  }

  #mark(marks: readonly TextMark[]): void {
    this.marks = marks;
    this.#remember();
  }

  #remember(): void {
    keepDraft({ text: this.text, said: this.said, marks: this.marks });
  }
}

export const importing = new Importing();
