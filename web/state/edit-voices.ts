import type { Score } from '#music';

/** An id that no voice of the song has. */
export function freeVoiceId(score: Score): string {
  const taken = new Set(score.voices.map(({ id }) => id));
  let number = score.voices.length + 1;
  while (taken.has(`V${number}`)) number += 1;
  return `V${number}`;
}
