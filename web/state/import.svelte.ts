import {
  Abc,
  Midi,
  SongFiles,
  success,
  WordsAndChords,
  type Key,
  type MidiTrack,
  type Problem,
  type ReadLine,
  type Result,
  type Score,
  type SongFormat,
  type TextMark,
} from '#music';
import type { NewSong } from '#server/contract/songs.ts';
import { createSong } from '#web/api/songs.ts';
import type { Trouble } from '#web/api/http.ts';
import { base64Of, textOf, type GivenFile } from './dropped.ts';
import { LikeInBook } from './import-double.svelte.ts';
import { keptDraft, keepDraft } from './import-draft.ts';
import { CALLED, carryMarks, tapLine, tapWord } from './import-marks.ts';
import { namesIn, withNames, type SaidNames } from './import-names.ts';
import { notices } from './notice.svelte.ts';

type Scores = Result<readonly Score[]>;

function readText(text: string, format: SongFormat, marks: readonly TextMark[]): Scores {
  if (format === 'words') {
    const result = WordsAndChords.read(text, { marks });
    return result.ok ? success([result.value], result.warnings) : result;
  }
  if (format === 'abc') return Abc.read(text);
  return scoresOf(SongFiles.read(new TextEncoder().encode(text), format));
}

function scoresOf(result: ReturnType<typeof SongFiles.read>): Scores {
  return result.ok ? success(result.value.scores, result.warnings) : result;
}

/** @param melody which track of MIDI is the tune; null: the one that is most like one */
function readBytes(bytes: Uint8Array, as: SongFormat, melody: number | null): Scores {
  if (melody === null) return scoresOf(SongFiles.read(bytes, as));
  const result = Midi.read(bytes, { melody });
  return result.ok ? success([result.value], result.warnings) : result;
}

const kept = keptDraft();

/**
 * A song on its way in: the text as it stands, what is read from it, and what is doubted. Outlives the page, so
 * that leaving it and coming back loses nothing.
 */
class Importing {
  text = $state(kept.text);
  /** A file that is not shown as text: MIDI, MusicXML. The text is empty then. */
  file = $state.raw<Uint8Array | null>(null);
  name = $state('');
  /** How a person says the text is read; null: as it looks. */
  said = $state<SongFormat | null>(kept.said);
  /** What a person said of lines and words. */
  marks = $state.raw<readonly TextMark[]>(kept.marks);
  /** Which tune of a file that holds several. */
  tune = $state(0);
  /** What a person calls a song whose source has no title; null: as its file is called. */
  called = $state<string | null>(null);
  /** The key that someone chose where the file leaves a doubt. */
  answer = $state.raw<Key | null>(null);
  busy = $state(false);
  trouble = $state.raw<Trouble | null>(null);
  /** MIDI: which track a person says the tune is in; null: the one that is most like a tune. */
  melody = $state<number | null>(null);
  readonly like = new LikeInBook();
  /** The file that the text came from. */
  #given: { readonly text: string; readonly bytes: Uint8Array } | null = null;

  readonly format: SongFormat = $derived(
    this.file
      ? SongFiles.formatOfFile(this.file, this.name)
      : (this.said ?? SongFiles.formatOfText(this.text)),
  );
  readonly result: Scores | null = $derived.by(() => {
    if (this.file) return readBytes(this.file, this.format, this.melody);
    return this.text.trim() === '' ? null : readText(this.text, this.format, this.marks);
  });
  readonly isEmpty = $derived(this.file === null && this.text === '');
  /** MIDI: what the tune can be chosen from. */
  readonly tracks: readonly MidiTrack[] = $derived(
    this.file && this.format === 'midi' ? Midi.tracks(this.file) : [],
  );
  /** Words with chords: what the text says its chords are called. */
  readonly names: SaidNames = $derived(namesIn(this.text));
  /** What every line of words with chords was taken for. */
  readonly lines: readonly ReadLine[] = $derived(
    this.format === 'words' ? WordsAndChords.lines(this.text, { marks: this.marks }) : [],
  );
  readonly #read: readonly Score[] = $derived(this.result?.ok ? this.result.value : []);
  readonly tunes: readonly Score[] = $derived(
    this.#read.map((score) => SongFiles.titled(score, this.name)),
  );
  readonly #chosen = $derived(this.tune in this.#read ? this.tune : 0);
  /** The song has no title of its own, so that it can be given one. */
  readonly isNameless: boolean = $derived.by(() => {
    const read = this.#read[this.#chosen];
    return read !== undefined && !SongFiles.hasTitle(read);
  });
  readonly score: Score | null = $derived.by(() => {
    const score = this.tunes[this.#chosen];
    const title = this.isNameless ? this.called?.trim() : '';
    return score && title ? { ...score, facts: { ...score.facts, title } } : (score ?? null);
  });
  readonly warnings: readonly Problem[] = $derived(this.result?.ok ? this.result.warnings : []);
  readonly problems: readonly Problem[] = $derived(
    this.result && !this.result.ok ? this.result.problems : [],
  );

  /** Takes a file in, in place of what was there; what a person had typed comes back from the foot of the page. */
  take(file: GivenFile): void {
    const isTyped = this.text.trim() !== '' && this.#given?.text !== this.text;
    const undo = this.clear();
    this.#show(file);
    if (isTyped) notices.say(`${file.name} stands in place of the text.`, undo);
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
    this.said = format === SongFiles.formatOfText(this.text) ? null : format;
    [this.tune, this.answer, this.trouble] = [0, null, null];
    this.#remember();
  }

  /** Says what the chords are called, in a line of the text itself. */
  call(words: SaidNames): void {
    const before = this.text;
    this.write(withNames(before, words));
    notices.say('The text says so now.', () => this.write(before));
  }

  /** The tune is in this track. */
  sings(track: number): void {
    this.melody = track;
    this.answer = null;
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
    [this.answer, this.called] = [null, null];
  }

  /**
   * Stores the song that is shown. Returns its id, or null where it did not work (then `trouble` says why), or where the
   * book has one like it that was not on the screen yet: a person sees it first.
   */
  async keep(): Promise<string | null> {
    if (!this.score || this.busy) return null;
    this.busy = true;
    const [seen, found] = [this.like.found?.id, await this.like.ask(this.score)];
    if (found && found.id !== seen) {
      this.busy = false;
      return null;
    }
    const answer = await createSong(this.#song());
    this.busy = false;
    if (!answer.ok) {
      this.trouble = answer.trouble;
      return null;
    }
    this.clear();
    return answer.value.id;
  }

  #song(): NewSong {
    const source = this.#sourceSong();
    const title = this.isNameless ? this.score?.facts.title : undefined;
    return title === undefined ? source : { ...source, title };
  }

  #sourceSong(): NewSong {
    const { format, text, file, melody } = this;
    const answers = this.answer ? { key: this.answer } : {};
    if (file) {
      // Of MIDI the number says which track is the tune.
      const tune = format === 'midi' ? melody : this.tune || null;
      return { format, bytes: base64Of(file), answers, ...(tune !== null && { tune }) };
    }
    if (format === 'words') {
      return { format, text, answers, marks: this.marks.map((mark) => ({ ...mark })) };
    }
    return format === 'abc'
      ? { format, ...this.#source(), answers, tune: this.tune }
      : { format, text, answers };
  }

  /** Empties the page. Returns the way back. */
  clear(): () => void {
    const { name, text, file, said, marks, melody, called } = this;
    [this.name, this.tune, this.answer, this.file, this.called] = ['', 0, null, null, null];
    [this.said, this.marks, this.melody] = [null, [], null];
    this.like.look(null);
    this.write('');
    return () => {
      [this.name, this.file, this.melody, this.called] = [name, file, melody, called];
      this.write(text);
      [this.said, this.marks] = [said, marks];
      this.#remember();
    };
  }

  #show(file: GivenFile): void {
    this.name = file.name;
    const format = SongFiles.formatOfFile(file.bytes, file.name);
    if (format === 'midi' || format === 'musicxml') {
      this.file = file.bytes;
      return;
    }
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
