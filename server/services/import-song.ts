import {
  Abc,
  SongFiles,
  success,
  WordsAndChords,
  type Problem,
  type Score,
  type Success,
} from '#music';
import type { NewSong, Song } from '../contract/songs.ts';
import type { TeamStore } from '../store/store.ts';
import { firstKey, withKey } from './answered-score.ts';
import { requireSong } from './find-songs.ts';
import { Refusal } from './refusal.ts';
import { requireScore } from './require-score.ts';

function bytesOf({ text, bytes }: NewSong): Uint8Array {
  return text === undefined
    ? new Uint8Array(Buffer.from(bytes ?? '', 'base64'))
    : new TextEncoder().encode(text);
}

function refused(problems: readonly Problem[], missing: string): Refusal {
  const [first] = problems;
  const where = first?.line === undefined ? '' : `Line ${first.line}: `;
  return new Refusal(
    'unreadable-song',
    `${where}${first?.message ?? missing} Nothing was kept; mend the text and bring it again.`,
    { problems },
  );
}

/** A song that was written here has no source but itself. */
function written(score: Score | undefined): Success<readonly Score[]> {
  if (!score) throw refused([], 'There is no song in it.');
  return success([requireScore(score)]);
}

/** Every song of a text: tunes in ABC, or one song as words with chords, read with what a person said of its lines. */
function read({ format, marks, score }: NewSong, bytes: Uint8Array): Success<readonly Score[]> {
  if (format === 'written') return written(score);
  if (format !== 'words') {
    const result = SongFiles.read(bytes, format);
    if (result.ok) return { ...result, value: result.value.scores };
    throw refused(result.problems, 'There is no tune in it.');
  }
  const result = WordsAndChords.read(Abc.decode(bytes).text, { marks: marks ?? [] });
  if (result.ok) return { ...result, value: [result.value] };
  throw refused(result.problems, 'There is no song in it.');
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
  const { value: scores, warnings } = read(input, bytes);
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
