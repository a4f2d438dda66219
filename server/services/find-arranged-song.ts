import { Keys, Transpose, type Key, type Score } from '#music';
import type { StoredArrangement } from '../store/arrangements.store.ts';
import type { StoredMember } from '../store/members.store.ts';
import type { StoredSong } from '../store/songs.store.ts';
import type { TeamStore } from '../store/store.ts';
import { answeredScore } from './answered-score.ts';
import { noSuchSong, requireStored } from './find-songs.ts';
import { knownForm } from './known-form.ts';
import { Refusal } from './refusal.ts';

export interface ArrangedSong {
  readonly song: StoredSong;
  /** With answers and corrections, in the song's own key. */
  readonly score: Score;
  readonly arrangement: StoredArrangement;
  /** Those that were asked for and are there, in that order. */
  readonly members: readonly StoredMember[];
}

/** A song with its arrangement and the members it takes, at one moment. A fixed few statements however many. */
export async function findArrangedSong(
  store: TeamStore,
  id: string,
  memberIds: (arrangement: StoredArrangement) => readonly (string | null)[],
): Promise<ArrangedSong> {
  return store.together(async (rooms) => {
    const song = await requireStored(rooms, id);
    const arrangement = await rooms.arrangements.findOfSong(id);
    if (!arrangement) throw noSuchSong();
    const ids = [...new Set(memberIds(arrangement))].filter((each) => each !== null);
    const members = ids.length === 0 ? [] : await rooms.members.findAll(ids);
    const score = answeredScore(song);
    const form = knownForm(arrangement.form, score);
    return { song, score, arrangement: { ...arrangement, form }, members };
  });
}

/** A key as it was typed, in the mode of the song: the tonic says where it goes. */
export function requireKey(text: string, mode: Key['mode']): Key {
  const key = Keys.readKey(text);
  if (key) return { tonic: key.tonic, mode };
  throw new Refusal('unreadable-key', `“${text}” is not a key; one looks like F, Bb or F# minor.`);
}

export function inKey(score: Score, key: Key): Score {
  return Transpose.score(score, key);
}
