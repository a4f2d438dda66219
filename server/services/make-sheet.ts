import { Sheets, type PageRequest, type Sheet } from '#music';
import type { SheetQuery } from '../contract/sheets.ts';
import type { Renderer } from '../render/renderer.ts';
import type { TeamStore } from '../store/store.ts';
import { buildPart } from './build-part.ts';
import { engrave } from './engrave.ts';

/** The page of one player, engraved for a view. */
export async function makeSheet(
  store: TeamStore,
  renderer: Renderer,
  songId: string,
  query: SheetQuery,
): Promise<Sheet> {
  const { part, player, warnings } = await buildPart(store, songId, query);
  const { width, text: textScale, verse = null } = query;
  const page: PageRequest = { width, textScale, verse };
  const engraved = await engrave(renderer, Sheets.request(part, page));
  return Sheets.of(part, player, page, engraved, warnings);
}
