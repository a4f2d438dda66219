import type { Arrangement, ArrangementChange } from '../contract/arrangements.ts';
import type {
  ArrangementFacts,
  ArrangementUpdate,
  StoredArrangement,
} from '../store/arrangements.store.ts';
import type { TeamRooms, TeamStore } from '../store/store.ts';
import { noSuchSong, requireStored } from './find-songs.ts';
import { knownForm } from './known-form.ts';
import { leadsIn } from './pass-leads.ts';
import { Refusal } from './refusal.ts';
import { requireForm, requireMode } from './require-form.ts';
import { staleVersion } from './stale-version.ts';

function arrangementOf(stored: StoredArrangement): Arrangement {
  const form = stored.form && [...stored.form];
  return { ...stored, form, singers: [...stored.singers] };
}

async function require(rooms: TeamRooms, songId: string): Promise<StoredArrangement> {
  const found = await rooms.arrangements.findOfSong(songId);
  if (!found) throw noSuchSong();
  return found;
}

/**
 * The song's usual arrangement, without passes through what the song no longer has. A song is brought with one, so only a
 * song that is not there has none.
 */
export async function findArrangement(store: TeamStore, songId: string): Promise<Arrangement> {
  return store.together(async (rooms) => {
    const stored = await require(rooms, songId);
    if (stored.form === null) return arrangementOf(stored);
    const { score } = await requireStored(rooms, songId);
    return arrangementOf({ ...stored, form: knownForm(stored.form, score) });
  });
}

/** Everyone who is named is a member; who leads a pass may have been deleted since it was arranged so. */
async function check(
  rooms: TeamRooms,
  facts: ArrangementFacts,
  before: ArrangementFacts,
): Promise<void> {
  const known = leadsIn('form', before.form).map(({ member }) => member);
  const passes = leadsIn('form', facts.form).filter(({ member }) => !known.includes(member));
  const named = [
    ...[facts.lead, facts.player, ...facts.singers].filter((id) => id !== null),
    ...passes.map(({ member }) => member),
  ];
  const found = await rooms.members.findAll([...new Set(named)]);
  const missing = named.find((id) => !found.some((member) => member.id === id));
  if (missing === undefined) return;
  const field =
    missing === facts.lead
      ? 'lead'
      : missing === facts.player
        ? 'player'
        : (passes.find(({ member }) => member === missing)?.field ?? 'singers');
  const message = `No member has the id ${missing}. Nothing was changed.`;
  throw new Refusal('unknown-member', message, {
    problems: [{ code: 'unknown-member', field, message }],
  });
}

/** Who leads the singing is one of the singers. */
function singersOf({ lead, singers }: ArrangementFacts): readonly string[] {
  const once = [...new Set(singers)];
  return lead === null || once.includes(lead) ? once : [lead, ...once];
}

const same = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((id, place) => id === b[place]);

/**
 * What is new in a change against what its writer saw. A deleted lead is seen as null, so that null leaves them where
 * they are, and singers who were deleted are neither named nor taken out.
 */
function newIn(before: StoredArrangement, change: ArrangementChange): ArrangementUpdate {
  const { lead, player, singers: _, ...rest } = change;
  const singers = singersOf({ ...before, ...change });
  return {
    ...rest,
    ...(lead !== undefined && lead !== before.lead && { lead }),
    ...(player !== undefined && player !== before.player && { player }),
    ...(!same(singers, before.singers) && { singers }),
  };
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
    const update = newIn(before, change);
    if (update.key) requireMode(song, update.key);
    requireForm('form', song, update.form);
    await check(rooms, { ...before, ...update }, before);
    if (!(await rooms.arrangements.update(before.id, version, update))) {
      throw staleVersion(`The arrangement of “${song.title}”`);
    }
    return arrangementOf(await require(rooms, songId));
  });
}
