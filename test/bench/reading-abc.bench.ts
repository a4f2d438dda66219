import { readdirSync, readFileSync } from 'node:fs';
import abcjs from 'abcjs';
import { Abc } from '#music';
import { compare, type Row } from './measure.ts';

/**
 * Reading the 24 hymns from text beside the parse of abcjs 6.7.2, which says less: no bars are
 * checked, no key is found.
 */
export function bench(): Promise<Row[]> {
  const folder = new URL('../../seed-data/hymns/', import.meta.url);
  const texts = readdirSync(folder)
    .filter((file) => file.endsWith('.abc'))
    .map((file) => readFileSync(new URL(file, folder), 'latin1'));
  const theirs = () => texts.map((text) => abcjs.parseOnly(text).length);
  const ours = () => texts.map((text) => Abc.read(text).ok);
  if (ours().includes(false)) throw new Error('a hymn was not read');
  const { milliseconds, ratios } = compare([theirs, theirs, ours], 41, 1);
  const shown = (i: number) => (milliseconds[i] ?? NaN).toFixed(1);
  return Promise.resolve([
    {
      name: 'reading 24 hymns: Abc.read / abcjs.parseOnly',
      ratio: ratios[2] ?? NaN,
      limit: null,
      detail: `${shown(2)} ms / ${shown(0)} ms`,
    },
    {
      name: 'reading 24 hymns: abcjs / abcjs',
      ratio: ratios[1] ?? NaN,
      limit: null,
      detail: 'A/A control: how far off 1 is chance',
    },
  ]);
}
