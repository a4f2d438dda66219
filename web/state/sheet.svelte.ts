import type { SheetAnswer } from '#server/contract/sheets.ts';
import { findSheet, type SheetWish } from '#web/api/sheets.ts';
import type { PartWish } from '#web/api/part-files.ts';
import { Engraving } from './engraving.svelte.ts';
import { NamesOnDevice } from './note-names.svelte.ts';
import { askedWidth, sizeFrom, storedSize, storeSize } from './text-size.ts';

/** A verse as the address names it; what is none is left to the server's usual one. */
function verseOf(text: string | null): number | 'all' | null {
  if (text === 'all') return text;
  const number = Number(text);
  return Number.isInteger(number) && number >= 1 && number <= 99 ? number : null;
}

/** The sheet of one player, engraved for this view. */
export class SheetPage extends Engraving<SheetAnswer> {
  text = $state(storedSize());
  width = $state(0);
  /** What notes are called on this device. */
  readonly names = new NamesOnDevice();
  readonly id: string;
  /** The verses that can stand under the notes, and which does. */
  readonly #verses = $derived(this.current?.verses ?? { all: [], under: 1 as const });

  constructor(id: string) {
    super();
    this.id = id;
  }

  /** Which part it is, @param query of the address: key, level, player, density */
  part(query: URLSearchParams): PartWish {
    return {
      role: 'keys',
      level: query.get('level') ?? 'beginner',
      key: query.get('key'),
      player: query.get('player'),
      density: query.get('density'),
      names: this.names.chosen,
    };
  }

  /** @param query of the address: key, level, player, density, verse */
  fetch(query: URLSearchParams): void {
    if (this.width < 1) return;
    const wish: SheetWish = {
      ...this.part(query),
      verse: verseOf(query.get('verse')),
      width: askedWidth(this.width),
      text: this.text,
    };
    void this.show((signal) => findSheet(this.id, wish, signal));
  }

  /** `verse 1 of 5`, `verse 2 of 2, 4`; empty where there is nothing to choose. */
  get verseWords(): string {
    const { all, under } = this.#verses;
    if (all.length < 2) return '';
    if (under === 'all') return 'all verses';
    const isEvery = all.every((number, index) => number === index + 1);
    return `verse ${under} of ${isEvery ? all.length : all.join(', ')}`;
  }

  /** The verse before or after the one whose words stand under the notes, round and round. */
  verseFrom(by: 1 | -1): number | null {
    const { all, under } = this.#verses;
    if (all.length < 2) return null;
    const place = under === 'all' ? (by === 1 ? -1 : 0) : all.indexOf(under);
    return all[(place + by + all.length) % all.length] ?? null;
  }

  /** The next size up or down; null where there is none. */
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
