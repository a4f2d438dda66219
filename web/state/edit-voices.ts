import type { Score, Voice } from '#music';

/** An id that no voice of the song has. */
export function freeVoiceId(score: Score): string {
  const taken = new Set(score.voices.map(({ id }) => id));
  let number = score.voices.length + 1;
  while (taken.has(`V${number}`)) number += 1;
  return `V${number}`;
}

/** What a voice is called; one that its source only numbers by its staff (`S2V1`) by that: `staff 2, voice 1`. */
export function voiceName({ name }: Voice): string {
  const numbered = /^S(\d+)V(\d+)$/.exec(name);
  return numbered ? `staff ${numbered[1] ?? ''}, voice ${numbered[2] ?? ''}` : name;
}
