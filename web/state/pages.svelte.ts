import { Keys, RoleWords } from '#music';
import type { Page, PersonPages } from '#server/contract/pages.ts';
import type { PagesOf } from '#web/api/pages.ts';
import { sheetName, type ChangedSheets } from './changed-since.ts';
import { Engraving } from './engraving.svelte.ts';
import { sayDate } from './dates.ts';
import { fromDevice } from './from-device.svelte.ts';
import { NamesOnDevice } from './note-names.svelte.ts';
import { PagesSource, type DeviceEngraver, type PagesShown } from './pages-source.ts';
import { askedReads, putBack, readKeysOf, storedReads, storeRead } from './read-keys.ts';
import { askedWidth, sizeFrom, storedSize, storeSize } from './text-size.ts';

function sayOwner({ name, roles }: PersonPages['person']): string {
  return RoleWords.isWork(name, roles) ? name.replace(/^a /, '') : `for ${name}`;
}

/** All sheets of a person for a service. */
export class Packet extends Engraving<PersonPages> implements PagesShown {
  text = $state(storedSize());
  /** CSS px of the view. */
  width = $state(0);
  /** The verse under the notes, where it is sung; null: the first that is. */
  verse = $state<number | 'all' | null>(null);
  /** By item: the tonic that this person reads it in, as chosen on this device. */
  reads = $state.raw<Readonly<Record<string, string>>>({});
  /** What notes are called on this device. */
  readonly names = new NamesOnDevice();
  readonly of: PagesOf;
  readonly member: string;
  /** Index of the sheet that is open: it comes first where they are engraved here. */
  open = 0;
  /** What is otherwise than when this device had the sheets last. */
  changes = $state.raw<ChangedSheets>({});
  readonly #source: PagesSource;

  /** @param engraver of this device; missing: the server engraves everything */
  constructor(of: PagesOf, member: string, engraver: DeviceEngraver | null = null) {
    super();
    this.#source = new PagesSource(of, member, engraver, this);
    this.of = of;
    this.member = member;
    this.reads = storedReads(member);
  }

  readonly pages = $derived(this.current?.pages ?? []);
  /** Rubric before each page. */
  readonly before = $derived.by(() => {
    const back = putBack(this.pages);
    return this.pages.map((page, i) =>
      [back[i] ?? '', this.changes[sheetName(page)] ?? '']
        .filter((words) => words !== '')
        .join(' '),
    );
  });
  /** `Sunday, 29 November 2026`. */
  readonly date = $derived(this.current ? sayDate(this.current.service.date) : '');
  /** Whose pages they are: `for Ruth`; where the name says only what they do, that: `harmony voice`. */
  readonly whose = $derived(this.current ? sayOwner(this.current.person) : '');
  /** For paper, under the title: `for Ruth, Sunday, 29 November 2026`. What somebody does stands there already. */
  readonly dated = $derived(
    this.whose.startsWith('for ') ? `${this.whose}, ${this.date}` : this.date,
  );
  /** For paper: what stands above every page. */
  readonly running = $derived(
    this.pages.map((page) => ({ left: `${page.title}, ${this.whose}`, right: this.date })),
  );

  /** How this person has the sheets open. */
  readonly asked = $derived({
    verse: this.verse,
    names: this.names.chosen,
    played: askedReads(this.reads),
  });

  fetch(): void {
    if (this.width < 1 || this.member === '') return;
    const wish = { width: askedWidth(this.width), text: this.text, ...this.asked };
    void this.show((signal) => this.#source.find(wish, signal));
  }

  onopen(index: number, page: Page): void {
    const before = this.pages[index];
    if (!this.current || before?.item !== page.item || before.role !== page.role) return;
    this.current = { ...this.current, pages: this.pages.with(index, page) };
  }

  onchanged(changes: ChangedSheets): void {
    this.changes = { ...this.changes, ...changes };
  }

  /** Asks the server once more for what this device had kept, or could not get, now that somebody looks. */
  lookAgain(): void {
    const isMissing = this.trouble?.status === 0 || this.#source.isBehind;
    if (document.visibilityState !== 'visible' || !(isMissing || fromDevice.at !== null)) return;
    this.#source.renew();
    this.fetch();
  }

  readKeys(sheet: number): ReturnType<typeof readKeysOf> {
    return readKeysOf(this.pages[sheet], this.current?.reads ?? {});
  }

  /** Reads the item of a sheet in another key from now on, on this device. */
  readIn(sheet: number, tonic: string): void {
    const item = this.pages[sheet]?.item;
    if (!item) return;
    this.reads = { ...this.reads, [item]: tonic };
    storeRead(this.member, item, tonic);
  }

  /** The verse under the notes of a sheet; null: it has no notes. */
  verseUnder(sheet: number): number | 'all' | null {
    const page = this.pages[sheet];
    return page?.kind === 'staff' ? page.sheet.verses.under : null;
  }

  /** The verses that can stand under the notes of a sheet, as they are sung; none where there is no choice. */
  versesOf(sheet: number): readonly number[] {
    const page = this.pages[sheet];
    const all = page?.kind === 'staff' ? page.sheet.verses.all : [];
    return all.length > 1 ? all : [];
  }

  /** The key that a sheet is headed with; empty: it has none. */
  keyOf(sheet: number): string {
    const page = this.pages[sheet];
    return page?.kind === 'staff' || page?.kind === 'words' ? page.sheet.heading.key : '';
  }

  /** The key that it sounds in where it is read in another: `D`; else empty. */
  soundsOf(sheet: number): string {
    const page = this.pages[sheet];
    const played = page?.kind === 'staff' || page?.kind === 'words' ? page.played : null;
    return played ? Keys.sayKey(played.sounds).replace(/ major$/, '') : '';
  }

  /** Which of the sheets of one song it is, where there are several: `bass`; else empty. */
  roleOf(sheet: number): string {
    const page = this.pages[sheet];
    if (!page?.item) return '';
    const alike = this.pages.filter(({ item }) => item === page.item);
    return alike.length > 1 ? page.role : '';
  }

  /** `next: O for a thousand tongues, in G`; empty after the last. */
  nextAfter(sheet: number): string {
    const next = this.pages[sheet + 1];
    if (!next) return '';
    const key = this.keyOf(sheet + 1);
    const role = this.roleOf(sheet + 1);
    return `next: ${next.title}${role ? ` (${role})` : ''}${key ? `, in ${key.replace(/ major$/, '')}` : ''}`;
  }

  sizeFrom(by: 1 | -1): number | null {
    return sizeFrom(this.text, by);
  }

  resize(by: 1 | -1): void {
    const size = this.sizeFrom(by);
    if (size === null) return;
    this.text = size;
    storeSize(size);
  }
}
