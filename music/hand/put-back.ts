import { signed, type PlayedKey } from './played-key.ts';

/** A sheet as one comes to it in a service. */
export interface ReadSheet {
  readonly item: string | null;
  readonly title: string;
  readonly role: string;
  /** How it is read in another key than it sounds in; null: it is not. */
  readonly played: PlayedKey | null;
}

const BACK = {
  'transpose button': (from: string, amount: number) =>
    `The keyboard is still at ${signed(amount)} from ${from}: set it back to 0.`,
  capo: (from: string, amount: number) =>
    `The capo is still at fret ${amount} from ${from}: take it off.`,
} as const;

/**
 * Before each sheet: what still stands from an earlier song and must be put back; empty: nothing.
 * @param sheets in the order of the service; null: nothing is played from it
 */
export function putBack(sheets: readonly (ReadSheet | null)[]): string[] {
  let still: { readonly played: PlayedKey; readonly from: ReadSheet } | null = null;
  return sheets.map((sheet) => {
    // A person who sings and plays has two sheets for one song.
    if (sheet?.role !== 'keys' && sheet?.role !== 'guitar') return '';
    const { played } = sheet;
    const before = still;
    still = played ? { played, from: sheet } : null;
    if (!before || played || before.from.item === sheet.item) return '';
    return BACK[before.played.by](before.from.title, before.played.amount);
  });
}
