import { Intervals, Keys, Pitches, Time, Transpose, type Key, type Score } from '#music';
import type { Song } from '../contract/songs.ts';
import type { StoredSong } from '../store/songs.store.ts';
import type { TeamRooms, TeamStore } from '../store/store.ts';
import { answeredScore, firstKey } from './answered-score.ts';
import { requireSong, requireStored } from './find-songs.ts';
import { requireScore } from './require-score.ts';
import { staleVersion } from './stale-version.ts';

/** Semitones from the old tune to the new, mostly: the move of most notes that begin at the same places; null: no note does. */
function movedBy(before: Score, after: Score): number | null {
  const was = new Map(
    Time.soundingNotes(Time.melodyOf(before)).map(({ at, pitch }) => [at, pitch]),
  );
  const counts = new Map<number, number>();
  for (const { at, pitch } of Time.soundingNotes(Time.melodyOf(after))) {
    const old = was.get(at);
    if (old === undefined) continue;
    const move = Pitches.midiOf(pitch) - Pitches.midiOf(old);
    counts.set(move, (counts.get(move) ?? 0) + 1);
  }
  const [most] = [...counts].sort(([, a], [, b]) => b - a);
  return most ? most[0] : null;
}

/**
 * The usual key after an edit. A song in its own key stays in its own. One that was moved stays where it sounded: if the
 * notes moved under it, in the same key; if only the key's name changed, as far from the new name as from the old.
 */
function arrangedKey(arranged: Key, before: Score, after: Score): Key {
  const [was, is] = [firstKey(before), firstKey(after)];
  if (Keys.sameKey(was, is)) return arranged;
  if (Keys.sameKey(was, arranged)) return is;
  if (was.mode === is.mode && movedBy(before, after) !== 0) return arranged;
  const moved = Transpose.interval(was, arranged);
  return Keys.usualSpelling({
    tonic: Intervals.transposeNote(is.tonic, moved),
    mode: is.mode,
  });
}

async function carryArrangement(
  rooms: TeamRooms,
  song: StoredSong,
  before: Score,
  after: Score,
): Promise<void> {
  const arrangement = await rooms.arrangements.findOfSong(song.id);
  if (!arrangement) return;
  const key = arrangedKey(arrangement.key, before, after);
  if (Keys.sameKey(key, arrangement.key)) return;
  await rooms.arrangements.update(arrangement.id, arrangement.version, { key });
}

/**
 * Takes the music of a song as it was edited. What was answered and corrected before is part of it; the source stays as
 * it was brought. Arrangements and services keep naming what they named: a section or verse that is gone is passed over
 * there, and counts again when it is back.
 */
export async function saveScore(
  store: TeamStore,
  id: string,
  version: number,
  sent: Score,
): Promise<Song> {
  const score = requireScore(sent);
  return store.together(async (rooms) => {
    const song = await requireStored(rooms, id);
    if (song.version !== version) throw staleVersion(`The song “${song.title}”`);
    await rooms.songs.update(id, version, {
      title: score.facts.title,
      tune: score.facts.tune,
      key: firstKey(score),
      score,
      answeredKey: null,
      corrections: [],
    });
    await carryArrangement(rooms, song, answeredScore(song), score);
    return requireSong(rooms, id);
  });
}
