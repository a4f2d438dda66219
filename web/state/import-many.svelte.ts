import { SongFiles } from '#music';
import type { ImportLine, ImportReport } from '#server/contract/library.ts';
import type { Answer, Trouble } from '#web/api/http.ts';
import { importSongs } from '#web/api/library.ts';
import { createSong } from '#web/api/songs.ts';
import { base64Of, isArchive, readFile, sortOut, type FoundFile } from './dropped.ts';
import { ArchiveComing, bringOfArchive, type ArchiveEnd } from './import-archive.svelte.ts';
import { sayRest } from './import-report.ts';
import { backInBook, outOfBook } from './import-undo.ts';
import { notices } from './notice.svelte.ts';

/** The most that one request carries: files, few enough that the page tells often how far it is, and bytes before they become text. */
const MOST_FILES = 25;
const MOST_BYTES = 8_000_000;

/** A line of the report, with the file it came from, to be brought all the same. */
export interface Reported extends ImportLine {
  readonly found: FoundFile | null;
  /** Which song of its file or archive, from 0. */
  readonly index: number;
}

/** Letters of a title that is sent. */
const LONGEST_TITLE = 500;

type Brought = Pick<ImportLine, 'song' | 'outcome' | 'why'>;

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
  /** The archive that is under way. */
  readonly archive = new ArchiveComing();
  /** Archives of which some songs were told of, and how many. */
  heard = $state.raw<ReadonlyMap<FoundFile, number>>(new Map());
  readonly done = $derived(this.total - this.waiting.length);
  /** What is not in yet, as it is said. */
  readonly rest = $derived.by(() => {
    const [first] = this.waiting;
    const isBegun = first !== undefined && (this.heard.get(first) ?? 0) > 0;
    return sayRest(
      this.waiting.map(({ path }) => path),
      isBegun,
    );
  });
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
      const [first] = batch;
      if (first && isArchive(first)) {
        if (!this.#ended(first, await this.#sendArchive(first, sending.signal))) break;
        continue;
      }
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

  /**
   * Stops after what is under way; the rest waits and can be sent again. Of an archive the server stops after the song it
   * is at and tells of it; one that is still being sent has no song in yet.
   */
  async stop(): Promise<void> {
    if (!(await this.archive.stop())) this.#sending?.abort();
  }

  /** Brings a song that was left out, because it is in the book already; the foot of the page offers the way back. */
  async bring(line: Reported): Promise<boolean> {
    if (!line.found) return false;
    const brought = isArchive(line.found)
      ? await bringOfArchive(line.found.file, line.index)
      : await this.#bringFile(line.found, line);
    if ('message' in brought || brought.song === null) {
      notices.say('message' in brought ? brought.message : brought.why);
      return false;
    }
    const id = brought.song;
    const now: Reported = { ...line, ...brought, file: line.file, double: null };
    this.#replace(line, now);
    notices.say(`${line.title ?? line.file} is in the book too.`, async () => {
      const { trouble } = await outOfBook([id]);
      if (trouble) notices.say(trouble.message);
      else this.#replace(now, line);
    });
    return true;
  }

  async #bringFile(found: FoundFile, { index, title }: Reported): Promise<Brought | Trouble> {
    const { bytes } = await readFile(found);
    const answer = await createSong({
      format: SongFiles.formatOf(bytes),
      bytes: base64Of(bytes),
      ...(this.#songsOf(found) > 1 && { tune: index }),
      ...(title !== null && { title: title.slice(0, LONGEST_TITLE) }),
    });
    return answer.ok ? { song: answer.value.id, outcome: 'in', why: '' } : answer.trouble;
  }

  #replace(one: Reported, other: Reported): void {
    this.lines = this.lines.map((each) => (each === one ? other : each));
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
    this.#sending?.abort();
    [this.lines, this.waiting, this.total, this.heard] = [[], [], 0, new Map()];
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

  /** Sends what was not told of yet of an archive. */
  #sendArchive(found: FoundFile, signal: AbortSignal): Promise<ArchiveEnd> {
    return this.archive.send(found.path, found.file, {
      from: this.heard.get(found) ?? 0,
      signal,
      onlines: (lines, from) => {
        // The page may have been emptied meanwhile.
        if (!this.waiting.includes(found)) return;
        const reported = lines.map((line, i): Reported => ({ ...line, found, index: from + i }));
        this.lines = [...this.lines, ...reported];
        this.heard = new Map(this.heard).set(found, from + lines.length);
      },
    });
  }

  /** @returns whether the next file may follow an archive that ended so */
  #ended(found: FoundFile, end: ArchiveEnd): boolean {
    if (end === 'stopped') return false;
    if (end === 'done') this.#take([found], []);
    else if (passes(end)) this.trouble = end;
    else this.#take([found], [failed(found.path, end.message)]);
    return this.trouble === null;
  }

  /** @returns null: it was stopped */
  async #post(
    batch: readonly FoundFile[],
    signal: AbortSignal,
  ): Promise<Answer<ImportReport> | null> {
    try {
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
