import { setImmediate as nextTurn } from 'node:timers/promises';
import type { Part } from '#music';
import type { PartsQuery, PersonParts } from '../contract/person-parts.ts';
import {
  deletedSong,
  headOf,
  orderPages,
  songOfItem,
  songsOf,
  tonicsOf,
  type PersonPlan,
} from './make-pages.ts';
import { writeSongPages } from './make-song-pages.ts';
import type { See } from './shown-names.ts';

/** What no page says of a song does not leave with its parts either: where it came from, and what else stands there. */
function withoutSource(part: Part): Part {
  const facts = { ...part.score.facts, source: null, other: [] };
  return { ...part, score: { ...part.score, facts } };
}

/**
 * Everything that one person opens for a service, in order, with the parts from which a device engraves their pages by
 * itself. Of a player nothing is told but the name on the page. Each song is written in a turn of its own.
 */
export async function makePersonParts(
  plan: PersonPlan,
  { names, played }: PartsQuery,
  see: See,
): Promise<PersonParts> {
  const tonics = tonicsOf(played);
  const pages: PersonParts['pages'] = [...orderPages(plan, see)];
  for (const item of songsOf(plan)) {
    const song = songOfItem(plan, item, see, tonics.get(item.id), names);
    const written = song ? writeSongPages(song) : deletedSong(plan, item);
    for (const page of written) {
      if (page.kind !== 'part') pages.push(page);
      else {
        const { part, player, ...rest } = page;
        pages.push({ ...rest, part: withoutSource(part), player: { name: player.name } });
      }
    }
    await nextTurn();
  }
  return { ...headOf(plan, see), pages };
}
