import type { OrderSheet, PlayedKey, Sheet, WordsSheet } from '#music';
import type { Ink } from './ink.ts';
import type { Paper, PaperLayout, Print } from './paper.ts';

/** One sheet of a person, as the contract has it. */
export type PacketPage = { readonly title: string; readonly offer?: PlayedKey } & (
  | { readonly kind: 'staff'; readonly played: PlayedKey | null; readonly sheet: Sheet }
  | { readonly kind: 'words'; readonly played: PlayedKey | null; readonly sheet: WordsSheet }
  | { readonly kind: 'order'; readonly sheet: OrderSheet }
  | { readonly kind: 'none'; readonly reason: string }
);

/** All sheets of one person for a service, to be bound. */
export interface PacketRequest {
  readonly paper: Paper;
  readonly print: Print;
  /** `Ruth`. */
  readonly name: string;
  /** `Morning service`. */
  readonly service: string;
  /** `Sunday, 29 November 2026`. */
  readonly date: string;
  /** The day of the service; the document is dated with it, so that the same packet has the same bytes. */
  readonly day: string;
  /** In order, engraved for this paper. */
  readonly pages: readonly PacketPage[];
  /** Rubric before each page; empty: none. */
  readonly before: readonly string[];
  /** Streams as they are, so that a test can read them. Missing: packed. */
  readonly plain?: boolean;
}

/** What a sheet is laid out with. */
export interface Desk {
  readonly ink: Ink;
  readonly layout: PaperLayout;
}
