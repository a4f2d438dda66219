import { NotedDetails, SongFiles, success, type Problem, type Score, type Success } from '#music';
import type { NewSong, Song } from '../contract/songs.ts';
import type { NewStoredSong } from '../store/songs.store.ts';
import type { TeamRooms, TeamStore } from '../store/store.ts';
import { firstKey, withKey } from './answered-score.ts';
import { renamed } from './renamed.ts';
import { requireSong } from './find-songs.ts';
import { readSongs, type Reader } from './read-songs.ts';
import { Refusal } from './refusal.ts';
import { requireScore } from './require-score.ts';

function bytesOf({ text, bytes }: NewSong): Uint8Array {
  return text === undefined
    ? new Uint8Array(Buffer.from(bytes ?? '', 'base64'))
    : new TextEncoder().encode(text);
}

function refused(problems: readonly Problem[]): Refusal {
  const [first] = problems;
  const where = first?.line === undefined ? '' : `Line ${first.line}: `;
  return new Refusal(
    'unreadable-song',
    `${where}${first?.message ?? 'There is no song in it.'} Nothing was kept; mend the text and bring it again.`,
    { problems },
  );
}

/** Every song of what is brought. One that was written here is checked, for it has no source but itself. */
async function read(
  reader: Reader,
  { format, marks, score, tune }: NewSong,
  bytes: Uint8Array,
): Promise<Success<readonly Score[]>> {
  if (format === 'written') return success([requireScore(score)]);
  const result = await readSongs(reader, {
    bytes,
    as: format,
    marks,
    ...(format === 'midi' && { melody: tune }),
  });
  if (result.ok) return success(result.value.scores, result.warnings);
  throw refused(result.problems);
}

function choose(scores: readonly Score[], index: number | undefined): Score {
  const titles = scores.map(({ facts }) => facts.title);
  if (index === undefined && scores.length > 1) {
    throw new Refusal(
      'several-tunes',
      `The file holds ${scores.length} tunes. Say which one to bring.`,
      { tunes: titles },
    );
  }
  const chosen = scores[index ?? 0];
  if (!chosen) {
    throw new Refusal(
      'several-tunes',
      `The file holds ${scores.length} ${scores.length === 1 ? 'tune' : 'tunes'}; number ${(index ?? 0) + 1} is not among them.`,
      { tunes: titles },
    );
  }
  return chosen;
}

/**
 * A song with a usual arrangement beside it, as the song has it. Its id. Only inside a transaction.
 * @param song it goes in under some title, whatever it has; where no details are given, they are what its file says of people, rights and the like
 */
export async function addSong(
  rooms: TeamRooms,
  song: Omit<NewStoredSong, 'title' | 'tune' | 'key'>,
): Promise<string> {
  const titled = SongFiles.titled(song.score, '');
  const { facts, details } = song.details
    ? { facts: titled.facts, details: song.details }
    : NotedDetails.taken(titled.facts);
  const score = { ...titled, facts };
  const key = firstKey(withKey(score, song.answeredKey));
  const { title, tune } = facts;
  const id = await rooms.songs.add({ ...song, score, details, title, tune, key });
  await rooms.arrangements.add(id, {
    key,
    tempo: null,
    density: 'bar',
    form: null,
    lead: null,
    singers: [],
    player: null,
  });
  return id;
}

/** The song that was sent under this name before; refuses where it was taken out since: somebody meant that. */
async function findSent(rooms: TeamRooms, { draft }: NewSong): Promise<Song | null> {
  const sent = draft === undefined ? null : await rooms.songs.findDraft(draft);
  return sent && requireSong(rooms, sent.id);
}

export interface Brought {
  readonly song: Song;
  /** Whether it was there already: it had been sent under the same name. */
  readonly again: boolean;
}

/**
 * Brings a song: its source is kept byte for byte, its music as it was read. What is sent again under the same name is
 * the song that it became, as it stands now; nothing of it is changed.
 */
export async function importSong(
  store: TeamStore,
  reader: Reader,
  input: NewSong,
): Promise<Brought> {
  const sent = await findSent(store, input);
  if (sent) return { song: sent, again: true };
  const bytes = bytesOf(input);
  const { value: scores, warnings } = await read(reader, input, bytes);
  // A file of MIDI is one song; there the number says which track is its tune.
  const chosen = choose(scores, input.format === 'midi' ? undefined : input.tune);
  const { title } = input;
  const score = title === undefined ? chosen : renamed(chosen, { title });
  return store.together(async (rooms) => {
    // It may have come in by the other door while this one was read.
    const meanwhile = await findSent(rooms, input);
    if (meanwhile) return { song: meanwhile, again: true };
    const id = await addSong(rooms, {
      score,
      warnings,
      answeredKey: input.answers?.key ?? null,
      source: { format: input.format, bytes, tuneIndex: input.tune ?? 0 },
      draft: input.draft,
    });
    return { song: await requireSong(rooms, id), again: false };
  });
}
