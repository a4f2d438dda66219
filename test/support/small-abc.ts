import { Abc, type Score } from '#music';

/** A tune of a few bars in C, written as ABC, with a line of words for each verse; throws where it is not read. */
export function songOf(music: string, words: readonly string[] = [], head = 'M:4/4\nL:1/4'): Score {
  const lines = ['X:1', 'T:A tune', head, 'K:C', music, ...words.map((line) => `w: ${line}`)];
  const read = Abc.read(`${lines.join('\n')}\n`);
  const score = read.ok ? read.value[0] : undefined;
  if (!score) throw new Error(`not read: ${music}`);
  return score;
}
