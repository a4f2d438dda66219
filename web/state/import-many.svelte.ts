import { SongFiles } from '#music';
import type { ImportLine, ImportReport } from '#server/contract/library.ts';
import type { Answer, Trouble } from '#web/api/http.ts';
import { importLibrary, importSongs } from '#web/api/library.ts';
import { createSong } from '#web/api/songs.ts';
import { base64Of, isArchive, readFile, sortOut, type FoundFile } from './dropped.ts';
import { backInBook, outOfBook } from './import-undo.ts';
import { notices } from './notice.svelte.ts';

/** The most that one request carries: files, few enough that the page tells often how far it is, and bytes before they become text. */
const MOST_FILES = 25;
const MOST_BYTES = 8_000_000;

/** A line of the report, with the file it came from, to be brought all the same. */
export interface Reported extends ImportLine {
  readonly found: FoundFile | null;
  /** Which song of its file, from 0. */
  readonly index: number;
}

const failed = (file: string, why: string): ImportLine => ({
  file,
  title: null,
  outcome: 'failed',
  song: null,
  why,
  problems: [],
  double: null,
});

/** Failures that pass, and that say nothing about the files: no network, a passphrase, a busy server. */
const passes = ({ status }: Trouble): boolean =>
  status === 0 || status === 401 || status === 408 || status === 429 || status >= 500;

/** Many files on their way in: sent some at a time, and told in one report. Outlives the page. */
export class ImportMany {
  lines = $state.raw<readonly Reported[]>([]);
  /** Files that are not sent yet; those that are being sent stay until their answer is there. */
  waiting = $state.raw<readonly FoundFile[]>([]);
  /** How many files there were. */
  total = $state(0);
  state = $state<'nothing' | 'sending' | 'stopped' | 'done' | 'taking out'>('nothing');
  trouble = $state.raw<Trouble | null>(null);
  readonly done = $derived(this.total - this.waiting.length);
  readonly brought = $derived(this.lines.flatMap(({ song }) => (song === null ? [] : [song])));
  #sending: AbortController | null = null;

  /** Takes files in and begins to send them. Files that hold no songs are reported, not sent. */
  async take(files: readonly FoundFile[]): Promise<void> {
    const { songs, others } = sortOut(files);
    this.total += songs.length + others.length;
    this.waiting = [...this.waiting, ...songs];
    const passed = others.map(({ path, why }) => ({ ...failed(path, why), outcome: 'left out' as const })); // prettier-ignore
    this.#report(passed, []);
    await this.send();
  }

  /** Sends what waits, until nothing waits or the network is gone. */
  async send(): Promise<void> {
    if (this.state === 'sending') return;
    [this.state, this.trouble] = ['sending', null];
    const sending = (this.#sending = new AbortController());
    /** How many go one by one, because one of them was in the way of all. */
    let alone = 0;
    while (this.waiting.length > 0 && !sending.signal.aborted) {
      const batch = this.#next(alone > 0 ? 1 : MOST_FILES);
      const answer = await this.#post(batch, sending.signal);
      if (answer === null) break;
      if (answer.ok) this.#take(batch, answer.value.lines);
      else if (passes(answer.trouble)) {
        this.trouble = answer.trouble;
        break;
      } else if (batch.length > 1) {
        alone = batch.length;
        continue;
      } else this.#take(batch, [failed(batch[0]?.path ?? '', answer.trouble.message)]);
      alone = Math.max(0, alone - 1);
    }
    this.state = this.waiting.length > 0 ? 'stopped' : 'done';
  }

  /** Stops after what is under way; the rest waits and can be sent again. */
  stop(): void {
    this.#sending?.abort();
  }

  /** Brings a song that was left out, because it is in the book already. @returns whether it is in */
  async bring(line: Reported): Promise<boolean> {
    if (!line.found) return false;
    const { bytes } = await readFile(line.found);
    const answer = await createSong({
      format: SongFiles.formatOf(bytes),
      bytes: base64Of(bytes),
      ...(this.#songsOf(line.found) > 1 && { tune: line.index }),
    });
    if (!answer.ok) {
      notices.say(answer.trouble.message);
      return false;
    }
    const now: Reported = { ...line, outcome: 'in', song: answer.value.id, why: '', double: null };
    this.lines = this.lines.map((each) => (each === line ? now : each));
    return true;
  }

  /** Takes everything that was brought out of the book again, in one step; the foot of the page offers the way back. */
  async takeOut(): Promise<void> {
    const [ids, before] = [this.brought, this.lines];
    this.state = 'taking out';
    const { gone, trouble } = await outOfBook(ids);
    this.lines = before.map((line) =>
      line.song !== null && gone.has(line.song)
        ? { ...line, outcome: 'left out', song: null, why: 'It was taken out again.' }
        : line,
    );
    this.state = 'done';
    if (trouble) notices.say(trouble.message);
    else {
      const count = gone.size;
      notices.say(`${count === 1 ? 'One song is' : `${count} songs are`} out again.`, async () => {
        const refused = await backInBook(ids);
        if (refused) notices.say(refused.message);
        else this.lines = before;
      });
    }
  }

  /** The page is empty again; what is in the book stays there. */
  clear(): void {
    this.stop();
    [this.lines, this.waiting, this.total] = [[], [], 0];
    [this.state, this.trouble] = ['nothing', null];
  }

  /** The next files that fit into one request; an archive goes alone. */
  #next(most: number): FoundFile[] {
    const batch: FoundFile[] = [];
    let bytes = 0;
    for (const found of this.waiting) {
      bytes += found.file.size;
      if (batch.length > 0 && (isArchive(found) || bytes > MOST_BYTES)) break;
      batch.push(found);
      if (isArchive(found) || batch.length === most) break;
    }
    return batch;
  }

  /** @returns null: it was stopped */
  async #post(
    batch: readonly FoundFile[],
    signal: AbortSignal,
  ): Promise<Answer<ImportReport> | null> {
    try {
      const [first] = batch;
      if (first && isArchive(first)) return await importLibrary(await first.file.arrayBuffer(), signal); // prettier-ignore
      const files = await Promise.all(batch.map(readFile));
      const sent = files.map(({ name, bytes }) => ({ name, bytes: base64Of(bytes) }));
      return await importSongs({ files: sent, doubles: 'leave' }, signal);
    } catch (error) {
      if (signal.aborted) return null;
      const message = 'A file could not be read from this device; perhaps it was moved.';
      if (!(error instanceof DOMException)) throw error;
      return { ok: false, trouble: { code: 'unreadable', message, status: 400, problems: [] } };
    }
  }

  #take(batch: readonly FoundFile[], lines: readonly ImportLine[]): void {
    this.waiting = this.waiting.slice(batch.length);
    this.#report(lines, batch);
  }

  #report(lines: readonly ImportLine[], batch: readonly FoundFile[]): void {
    const seen = new Map<string, number>();
    const reported = lines.map((line): Reported => {
      const index = seen.get(line.file) ?? 0;
      seen.set(line.file, index + 1);
      return { ...line, found: batch.find(({ path }) => path === line.file) ?? null, index };
    });
    this.lines = [...this.lines, ...reported];
  }

  #songsOf(found: FoundFile): number {
    return this.lines.filter((line) => line.found === found).length;
  }
}

export const importMany = new ImportMany();
