import { Abc, type Score, type Success } from '#music';
import type { NewSong, Song } from '../contract/songs.ts';
import type { TeamStore } from '../store/store.ts';
import { firstKey, withKey } from './answered-score.ts';
import { requireSong } from './find-songs.ts';
import { Refusal } from './refusal.ts';

function bytesOf({ text, bytes }: NewSong): Uint8Array {
  return text === undefined
    ? new Uint8Array(Buffer.from(bytes ?? '', 'base64'))
    : new TextEncoder().encode(text);
}

function read(bytes: Uint8Array): Success<Score[]> {
  const result = Abc.read(bytes);
  if (result.ok) return result;
  const { problems } = result;
  const [first] = problems;
  const where = first?.line === undefined ? '' : `Line ${first.line}: `;
  throw new Refusal(
    'unreadable-song',
    `${where}${first?.message ?? 'There is no tune in it.'} Nothing was kept; mend the file and bring it again.`,
    { problems },
  );
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

/** Brings a song: its source is kept byte for byte, its music as it was read, with a usual arrangement beside it. */
export async function importSong(store: TeamStore, input: NewSong): Promise<Song> {
  const bytes = bytesOf(input);
  const { value: scores, warnings } = read(bytes);
  const score = choose(scores, input.tune);
  const answeredKey = input.answers?.key ?? null;
  const key = firstKey(withKey(score, answeredKey));
  return store.together(async (rooms) => {
    const id = await rooms.songs.add({
      title: score.facts.title,
      tune: score.facts.tune,
      key,
      score,
      warnings,
      answeredKey,
      source: { format: input.format, bytes, tuneIndex: input.tune ?? 0 },
    });
    await rooms.arrangements.add(id, {
      key,
      tempo: null,
      density: 'bar',
      form: null,
      lead: null,
      singers: [],
      player: null,
    });
    return requireSong(rooms, id);
  });
}
