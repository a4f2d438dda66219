import {
  ChordSymbol,
  Intervals,
  Keys,
  Reduction,
  Time,
  Transpose,
  type Density,
  type Key,
  type Score,
} from '#music';
import type { Song, SongChange } from '../contract/songs.ts';
import type { StoredSong, WrittenChord } from '../store/songs.store.ts';
import type { TeamRooms, TeamStore } from '../store/store.ts';
import { answeredScore, firstKey, withKey } from './answered-score.ts';
import { requireSong, requireStored } from './find-songs.ts';
import { Refusal } from './refusal.ts';
import { renamed } from './renamed.ts';
import { staleVersion } from './stale-version.ts';

type ChordChange = NonNullable<SongChange['chord']>;

/** How long the chord lasts that is found at a place. */
function lengthAt(score: Score, at: number, density: Density): number {
  const read = Reduction.correct(Reduction.withChords(score, { density }), at, null);
  return read.chords.find((each) => each.at === at)?.length ?? 0;
}

function requireChordText(symbol: string | null): string | null {
  if (symbol === null) return null;
  const read = ChordSymbol.read(symbol);
  if (read.ok) return symbol;
  const { problems } = read;
  throw new Refusal('unreadable-chord', problems[0]?.message ?? 'That is not a chord symbol.', {
    problems: problems.map((problem) => ({ ...problem, field: 'chord.symbol' })),
  });
}

/** A chord begins with a beat, with a note of some voice, or where one stands already. */
function requireBeginning(score: Score, at: number): void {
  const { bar, beat } = Time.placeOf(score, at);
  const begins =
    Number.isInteger(beat) ||
    score.chords.some((each) => each.at === at) ||
    score.voices.some(({ notes }) => notes.some((note) => note.at === at));
  if (begins) return;
  const where = bar === 0 ? 'in the pickup' : `in bar ${bar}`;
  throw new Refusal(
    'no-such-place',
    `No beat and no note begins there, between beats ${Math.floor(beat)} and ${Math.ceil(beat)} ${where} of “${score.facts.title}”. Nothing was changed; write the chord on a beat or a note.`,
  );
}

async function correct(
  rooms: TeamRooms,
  song: StoredSong,
  change: ChordChange,
): Promise<WrittenChord[]> {
  const others = song.corrections.filter(({ at }) => at !== change.at);
  if ('remove' in change) return others;
  const symbol = requireChordText(change.symbol);
  const end = Time.endOf(song.score);
  const { at } = change;
  if (at >= end) {
    throw new Refusal(
      'no-such-place',
      `The song “${song.title}” ends before the place of that chord. Nothing was changed.`,
    );
  }
  requireBeginning(song.score, at);
  const arrangement = await rooms.arrangements.findOfSong(song.id);
  const found = change.length ?? lengthAt(answeredScore(song), at, arrangement?.density ?? 'bar');
  const length = Math.min(found, end - at);
  if (length <= 0)
    throw new Refusal('no-such-place', 'A chord lasts some time. Nothing was changed.');
  return [...others, { at, length, symbol }].sort((a, b) => a.at - b.at);
}

/** The arrangement stays as far from the song as it was: moved up a step, it is so in the new reading of the key too. */
async function carryArrangement(
  rooms: TeamRooms,
  songId: string,
  before: Key,
  after: Key,
): Promise<void> {
  const arrangement = await rooms.arrangements.findOfSong(songId);
  if (!arrangement) return;
  const moved = Transpose.interval(before, arrangement.key);
  const tonic = Intervals.transposeNote(after.tonic, moved);
  const key = Keys.usualSpelling({ tonic, mode: after.mode });
  await rooms.arrangements.update(arrangement.id, arrangement.version, { key });
}

/**
 * Answers a doubt, corrects a chord, or names the song or its tune anew. The notes that were read from the source stay as
 * they are, so all of it can be taken back.
 */
export async function changeSong(
  store: TeamStore,
  id: string,
  version: number,
  change: SongChange,
): Promise<Song> {
  return store.together(async (rooms) => {
    const song = await requireStored(rooms, id);
    if (song.version !== version) throw staleVersion(`The song “${song.title}”`);
    const answeredKey = change.key === undefined ? song.answeredKey : change.key;
    const key = firstKey(withKey(song.score, answeredKey));
    const corrections = change.chord && (await correct(rooms, song, change.chord));
    const isNamed = change.title !== undefined || change.tune !== undefined;
    const score = isNamed ? renamed(song.score, change) : null;
    await rooms.songs.update(id, version, {
      key,
      answeredKey,
      ...(corrections && { corrections }),
      ...(score && { score, title: score.facts.title, tune: score.facts.tune }),
    });
    if (key.tonic !== song.key.tonic || key.mode !== song.key.mode) {
      await carryArrangement(rooms, id, song.key, key);
    }
    return requireSong(rooms, id);
  });
}
