import abcjs from 'abcjs';

interface Played {
  setUpAudio(options: object): { readonly tempo: number; readonly totalDuration: number };
  getBeatLength(): number;
}

/**
 * Seconds that abcjs 6.7.2 plays a tune for, once from its start with its repeats and endings, tempo changes in it: its
 * sequence for the synthesizer counts whole notes at the first tempo, which counts beats of `getBeatLength` wholes.
 */
export function secondsByAbcjs(text: string): number {
  const [tune] = abcjs.parseOnly(text);
  if (!tune) throw new Error('abcjs finds no tune');
  const played = tune as unknown as Played;
  const { tempo, totalDuration } = played.setUpAudio({});
  return (totalDuration / played.getBeatLength() / tempo) * 60;
}
