import { MusicXml, NotedDetails, Reduction } from '#music';
import type { TeamStore } from '../store/store.ts';
import { findArrangedSong, inKey, requireKey } from './find-arranged-song.ts';
import { requireRhythm } from './require-rhythm.ts';

export interface MusicXmlFile {
  readonly name: string;
  readonly text: string;
}

/** The whole song, every voice, with its chords and what is known of it, in its own key or another. */
export async function writeMusicXml(
  store: TeamStore,
  songId: string,
  keyText: string | undefined,
): Promise<MusicXmlFile> {
  const { song, score, arrangement } = await findArrangedSong(store, songId, () => []);
  requireRhythm(score, 'it cannot be written as a file of notes');
  const key = keyText === undefined ? song.key : requireKey(keyText, song.key.mode);
  const { density } = arrangement;
  const whole = Reduction.withChords(inKey(score, key), { density });
  const facts = NotedDetails.noted(whole.facts, song.details, 'musicxml');
  const text = MusicXml.write({ ...whole, facts });
  return { name: `${song.title}.musicxml`, text };
}
