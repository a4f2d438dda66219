import type { Arrangement, ArrangementChange } from '../contract/arrangements.ts';
import type { ArrangementFacts, StoredArrangement } from '../store/arrangements.store.ts';
import type { TeamRooms, TeamStore } from '../store/store.ts';
import { noSuchSong, requireStored } from './find-songs.ts';
import { Refusal } from './refusal.ts';
import { staleVersion } from './stale-version.ts';

function arrangementOf(stored: StoredArrangement): Arrangement {
  return { ...stored, singers: [...stored.singers] };
}

async function require(rooms: TeamRooms, songId: string): Promise<StoredArrangement> {
  const found = await rooms.arrangements.findOfSong(songId);
  if (!found) throw noSuchSong();
  return found;
}

/** The song's usual arrangement. A song is brought with one, so only a song that is not there has none. */
export async function findArrangement(store: TeamStore, songId: string): Promise<Arrangement> {
  return store.together(async (rooms) => arrangementOf(await require(rooms, songId)));
}

/** Everyone who is named is a member; who leads the singing is one of the singers. */
async function check(rooms: TeamRooms, facts: ArrangementFacts): Promise<void> {
  const named = [facts.lead, facts.player, ...facts.singers].filter((id) => id !== null);
  const found = await rooms.members.findAll([...new Set(named)]);
  const missing = named.find((id) => !found.some((member) => member.id === id));
  if (missing === undefined) return;
  const field = missing === facts.lead ? 'lead' : missing === facts.player ? 'player' : 'singers';
  const message = `No member has the id ${missing}. Nothing was changed.`;
  throw new Refusal('unknown-member', message, {
    problems: [{ code: 'unknown-member', field, message }],
  });
}

function withLead(facts: ArrangementFacts): ArrangementFacts {
  const singers = [...new Set(facts.singers)];
  if (facts.lead === null || singers.includes(facts.lead)) return { ...facts, singers };
  return { ...facts, singers: [facts.lead, ...singers] };
}

export async function arrangeSong(
  store: TeamStore,
  songId: string,
  version: number,
  change: ArrangementChange,
): Promise<Arrangement> {
  return store.together(async (rooms) => {
    const before = await require(rooms, songId);
    const song = await requireStored(rooms, songId);
    const facts = withLead({ ...before, ...change });
    if (facts.key.mode !== song.key.mode) {
      throw new Refusal(
        'not-possible',
        `“${song.title}” is ${song.key.mode}; another key moves it up or down but keeps it so. Nothing was changed.`,
      );
    }
    await check(rooms, facts);
    if (!(await rooms.arrangements.update(before.id, version, facts, true))) {
      throw staleVersion(`The arrangement of “${song.title}”`);
    }
    return arrangementOf(await require(rooms, songId));
  });
}
