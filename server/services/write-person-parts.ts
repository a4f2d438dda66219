import { setImmediate as nextTurn } from 'node:timers/promises';
import { Zip, ZipDeflate, type ZipInputFile } from 'fflate';
import type { PartFileKind, PersonFilesQuery } from '../contract/part-files.ts';
import type { TeamStore } from '../store/store.ts';
import { findPersonPlan } from './find-pages.ts';
import { songOfItem, tonicsOf } from './make-pages.ts';
import { partOf } from './make-song-pages.ts';
import { partFile, partFileName, withDetails } from './part-file.ts';
import { namesFor, type See } from './shown-names.ts';

export interface PersonParts {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const BOTH: readonly PartFileKind[] = ['musicxml', 'midi'];
/** The first moment a zip can name, on whatever clocks: the same parts are the same bytes. */
const ALWAYS = new Date(1980, 0, 1);
const LEFT_OUT = 'Not in here.txt';

const utf8 = new TextEncoder();

/** A name that no system takes for a folder or for more than a name. */
const plain = (name: string): string =>
  name
    .replaceAll(/[\p{Cc}\p{Cs}<>:"/\\|?*]/gu, ' ')
    .replaceAll(/\s+/g, ' ')
    .trim();

/**
 * All parts of one person for a service as one zip, in the order of the service, as their pages have them. What has no
 * notes is named in a text beside them, so that nothing is missing silently. Each song is written in a turn of its own,
 * so that others are answered in between.
 */
export async function writePersonParts(
  store: TeamStore,
  { service: id, member, see }: { service: string; member: string; see: See },
  query: PersonFilesQuery,
): Promise<PersonParts> {
  const plan = await store.together((rooms) => findPersonPlan(rooms, id, member));
  const { service, book, member: person } = plan;
  const tonics = tonicsOf(query.played);
  const pieces: Uint8Array[] = [];
  const zip = new Zip((error, piece) => {
    if (error) throw error;
    pieces.push(piece);
  });
  const put = (name: string, content: string | Uint8Array): void => {
    const file: ZipInputFile & { push: ZipDeflate['push'] } = new ZipDeflate(name, { level: 6 });
    file.mtime = ALWAYS;
    zip.add(file);
    file.push(typeof content === 'string' ? utf8.encode(content) : content, true);
  };
  const leftOut: string[] = [];
  const songs = service.items.filter(({ kind }) => kind === 'song');
  for (const [place, item] of songs.entries()) {
    const number = String(place + 1).padStart(2, '0');
    const song = songOfItem(plan, item, see, tonics.get(item.id));
    if (!song) {
      leftOut.push(`${number} ${item.title}: it was deleted from the songs.`);
      continue;
    }
    await nextTurn();
    const details = item.song === null ? undefined : book.songs.get(item.song)?.details;
    if (song.players.length === 0) leftOut.push(`${number} ${song.title}: no part in it.`);
    for (const player of song.players) {
      const { played, built } = partOf(song, player);
      if (!built?.ok) {
        const why = built?.problems[0]?.message ?? `${player.role} follows the words with chords.`;
        leftOut.push(`${number} ${song.title}: ${why}`);
        continue;
      }
      const part = details ? withDetails(built.value, details) : built.value;
      const name = plain(`${number} ${partFileName(song.title, player.role, '')}`);
      for (const kind of query.as === undefined ? BOTH : [query.as]) {
        const owner = { name: player.name, played };
        const { ending, content } = partFile(part, owner, kind, query);
        put(`${name}.${ending}`, content);
      }
    }
  }
  if (songs.length === 0) leftOut.push('There is no song in this service.');
  if (leftOut.length > 0) put(LEFT_OUT, `${leftOut.join('\n')}\n`);
  zip.end();
  const whose = namesFor(see, book.members, service.people)(person.id) ?? '';
  const name = partFileName(service.title, service.date, whose);
  return { name: `${name}.zip`, bytes: Buffer.concat(pieces) };
}
