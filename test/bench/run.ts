/**
 * `npm run bench`: every `*.bench.ts` beside this file exports `bench(): Promise<Row[]>`; all rows
 * are printed as one table, and the run fails where a ratio is above its limit. Words after the
 * command choose benches by name.
 */
import { readdir } from 'node:fs/promises';
import type { Row } from './measure.ts';

const here = new URL('.', import.meta.url);
const wanted = process.argv.slice(2);
const files = (await readdir(here))
  .filter((name) => name.endsWith('.bench.ts'))
  .filter((name) => wanted.length === 0 || wanted.some((word) => name.includes(word)))
  .sort();

const rows: Row[] = [];
for (const file of files) {
  const { bench } = (await import(new URL(file, here).href)) as { bench: () => Promise<Row[]> };
  rows.push(...(await bench()));
}

const number = (value: number) => value.toFixed(2);
const lines = rows.map((row) => {
  const over = row.limit !== null && !(row.ratio <= row.limit);
  const limit = row.limit === null ? '–' : `≤ ${number(row.limit)}`;
  return [row.name, number(row.ratio), limit, over ? 'OVER' : '', row.detail];
});
const header = ['what', 'ratio', 'limit', '', 'detail'];
const widths = header.map((title, i) =>
  Math.max(title.length, ...lines.map((line) => (line[i] ?? '').length)),
);
const print = (cells: readonly string[]) =>
  `| ${cells.map((cell, i) => cell.padEnd(widths[i] ?? 0)).join(' | ')} |`;
const table = [print(header), print(widths.map((width) => '-'.repeat(width))), ...lines.map(print)];
process.stdout.write(`${table.join('\n')}\n`);

const over = lines.filter((line) => line[3] === 'OVER').length;
if (files.length === 0) process.stderr.write('No bench has that name.\n');
process.exitCode = over > 0 || files.length === 0 ? 1 : 0;
