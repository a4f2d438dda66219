import { readFileSync } from 'node:fs';
import { Abc, type Score } from '#music';

/** A hymn of seed-data/hymns as published, read whole; throws where it is not. */
export function hymn(file: string): Score {
  const bytes = readFileSync(new URL(`../../seed-data/hymns/${file}`, import.meta.url));
  const read = Abc.read(bytes);
  const score = read.ok ? read.value[0] : undefined;
  if (!score) throw new Error(`${file} was not read`);
  return score;
}
