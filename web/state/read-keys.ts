import { Keys, PlayedKeys, PutBack, type Key, type PlayedKey } from '#music';
import type { Page, PersonPages } from '#server/contract/pages.ts';

/** A key that a song can be read in. */
export interface ReadKey {
  readonly tonic: string;
  /** `C, set +2`; `G, capo 2`; `D, as it sounds`. */
  readonly words: string;
  readonly chosen: boolean;
}

/** What is kept on this device: how a person reads an item of an order, by `person item`. */
const STORED = 'partbook.reads';
/** The oldest are forgotten: a device of many years reads many services. */
const MOST = 200;

function stored(): Record<string, string> {
  try {
    const value: unknown = JSON.parse(localStorage.getItem(STORED) ?? '{}');
    return typeof value === 'object' && value !== null ? (value as Record<string, string>) : {};
  } catch {
    return {};
  }
}

/** By item: the tonics that this person chose on this device. */
export function storedReads(person: string): Record<string, string> {
  const own = Object.entries(stored()).filter(
    ([name, tonic]) => name.startsWith(`${person} `) && /^[A-G][#b]?$/.test(tonic),
  );
  return Object.fromEntries(own.map(([name, tonic]) => [name.slice(person.length + 1), tonic]));
}

export function storeRead(person: string, item: string, tonic: string): void {
  const { [`${person} ${item}`]: _, ...others } = stored();
  const kept = [...Object.entries(others), [`${person} ${item}`, tonic] as const].slice(-MOST);
  try {
    localStorage.setItem(STORED, JSON.stringify(Object.fromEntries(kept)));
  } catch {
    // The choice lasts as long as the page.
  }
}

/** As the server is asked: `item.C,item.G`; null: nothing is read otherwise. Ids that do not fit are left out. */
export function askedReads(reads: Readonly<Record<string, string>>): string | null {
  const pairs = Object.entries(reads)
    .filter(([item]) => /^[\w-]+$/.test(item))
    .map(([item, tonic]) => `${item}.${tonic}`);
  return pairs.length > 0 ? pairs.join(',') : null;
}

/** The key that a page sounds in; null: it is not known. */
function soundingOf(page: Page): Key | null {
  if (page.kind !== 'staff' && page.kind !== 'words') return null;
  return page.played?.sounds ?? Keys.readKey(page.sheet.heading.key);
}

/** `+2`, `−3`. */
const signed = (amount: number): string => (amount > 0 ? `+${amount}` : `−${-amount}`);

function wordsOf(played: PlayedKey | null, sounding: Key): string {
  if (!played) return `${Keys.sayNote(sounding.tonic)}, as it sounds`;
  const plays = Keys.sayNote(played.plays.tonic);
  return played.by === 'capo'
    ? `${plays}, capo ${played.amount}`
    : `${plays}, set ${signed(played.amount)}`;
}

/** The keys in which the person can read what stands on a page; none where there is no choice. */
export function readKeysOf(page: Page | undefined, reads: PersonPages['reads']): ReadKey[] {
  if (!page?.item || (page.kind !== 'staff' && page.kind !== 'words')) return [];
  const sounding = soundingOf(page);
  const tonics = reads[page.item] ?? [];
  if (!sounding || tonics.length < 2) return [];
  const now = page.played?.plays.tonic ?? sounding.tonic;
  // What the server offers is allowed; here it is only said in words.
  const able = { transposeButton: true, capo: 7 } as const;
  const found = tonics.flatMap((tonic): ReadKey[] => {
    const played = PlayedKeys.of(sounding, tonic, able, page.role);
    if (!played && tonic !== sounding.tonic) return [];
    return [{ tonic, words: wordsOf(played, sounding), chosen: tonic === now }];
  });
  return found.length > 1 ? found : [];
}

/** Before each page: what still stands from an earlier song and must be put back; empty: nothing. */
export function putBack(pages: readonly Page[]): string[] {
  return PutBack.putBack(
    pages.map((page) => (page.kind === 'staff' || page.kind === 'words' ? page : null)),
  );
}
