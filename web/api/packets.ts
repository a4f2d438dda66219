import type { NamedNotes } from '#music';
import type { ROWS } from '#server/contract/library.ts';
import type { PacketRow } from '#server/contract/packets.ts';
import { hear, queryOf, type Answer } from './http.ts';
import type { PagesOf } from './pages.ts';

const ROWS_TYPE: typeof ROWS = 'application/x-ndjson';

export interface PacketWish {
  readonly paper: 'A4' | 'Letter';
  readonly print: 'usual' | 'large';
  /** As one person has their sheets open; missing: as it was planned. */
  readonly verse?: number | 'all' | null;
  readonly played?: string | null;
  /** What notes are called; missing: English. */
  readonly names?: NamedNotes;
}

function pathOf(of: PagesOf, member: string | null, wish: PacketWish): string {
  const path = 'link' in of ? `/set/${of.link}` : `/services/${of.service}`;
  return `${path}/packets${member === null ? '' : `/${member}`}${queryOf({ ...wish })}`;
}

/** Where the browser fetches a packet. */
export function packetAddress(of: PagesOf, member: string | null, wish: PacketWish): string {
  return `/api${pathOf(of, member, wish)}`;
}

/** Has a packet made, and hands on how far it is. An aborted question stops the work. */
export function makePacket(
  of: PagesOf,
  member: string | null,
  wish: PacketWish,
  onrow: (row: PacketRow) => void,
  signal: AbortSignal,
): Promise<Answer<void>> {
  return hear(pathOf(of, member, wish), { accept: ROWS_TYPE, signal }, onrow);
}
