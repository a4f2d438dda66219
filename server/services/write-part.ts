import type { PartFileQuery } from '../contract/part-files.ts';
import type { TeamStore } from '../store/store.ts';
import { buildPart } from './build-part.ts';
import { partFile, partFileName, withDetails } from './part-file.ts';

export interface WrittenPart {
  readonly name: string;
  readonly type: string;
  readonly content: string | Uint8Array;
}

/** One part of a song as a file, as its sheet has it, with what the team knows of the song; never the private note. */
export async function writePart(
  store: TeamStore,
  songId: string,
  query: PartFileQuery,
): Promise<WrittenPart> {
  const { part, player, from } = await buildPart(store, songId, query);
  const noted = withDetails(part, from.song.details);
  const { ending, type, content } = partFile(noted, player, query.as, query);
  const name = partFileName(from.song.title, query.role, player.name);
  return { name: `${name}.${ending}`, type, content };
}
