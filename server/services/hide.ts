import type { Presence } from '../store/scope.ts';
import type { Refusal } from './refusal.ts';
import { staleVersion } from './stale-version.ts';

/** Rows that are hidden and never lost: songs, members, services. */
interface Hideable<Row> {
  readonly find: (id: string, which?: Presence) => Promise<Row | null>;
  readonly show: (id: string, version: number, shown: boolean) => Promise<boolean>;
}

/** How a refusal speaks of a row. */
export interface Spoken<Row> {
  readonly missing: () => Refusal;
  readonly name: (row: Row) => string;
}

/** Hides a row and answers with its new version, which restoring it must name. Only inside a transaction. */
export async function hide<Row extends { readonly version: number }>(
  rows: Hideable<Row>,
  id: string,
  version: number,
  { missing, name }: Spoken<Row>,
): Promise<number> {
  const row = await rows.find(id);
  if (!row) throw missing();
  if (!(await rows.show(id, version, false))) throw staleVersion(name(row));
  return row.version + 1;
}

/**
 * Brings a hidden row back. It cannot have been edited, so no version need be named (null); one that is named must be
 * the right one. Only inside a transaction.
 */
export async function unhide<Row extends { readonly version: number }>(
  rows: Hideable<Row>,
  id: string,
  version: number | null,
  { missing, name }: Spoken<Row>,
): Promise<void> {
  const row = await rows.find(id, 'deleted');
  if (!row) throw missing();
  if (!(await rows.show(id, version ?? row.version, true))) throw staleVersion(name(row));
}
