import { execFileSync } from 'node:child_process';
import { readFileSync, readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { Abc, Keys, Parts, Sheets, type Engraved, type Part } from '#music';
import { createRenderer } from '#server/render/renderer.ts';
import { median, type Row } from './measure.ts';

const folder = new URL('../../seed-data/hymns/', import.meta.url);
const SHEETS = 100;
const MEGABYTE = 1024 * 1024;
/** Memory of the whole process, engraver included, after a hundred different sheets. */
const LIMIT = 350;
/** What another hundred may add: the memory is flat. */
const GROWTH = 0.1;

const PLAYER = { id: 'p', name: 'Ines', role: 'keys', level: 'beginner', reach: 12 } as const;

/** Different sheets without end: 24 hymns in changing keys and widths. */
function* sheets(): Generator<{ part: Part; width: number }> {
  const scores = readdirSync(folder)
    .filter((name) => name.endsWith('.abc'))
    .flatMap((name) => {
      const read = Abc.read(readFileSync(new URL(name, folder)));
      return read.ok ? read.value.slice(0, 1) : [];
    });
  const keys = Keys.keysToOffer('major');
  for (let round = 0; ; round++) {
    for (const [index, score] of scores.entries()) {
      const tonic = keys[(round + index) % keys.length]?.tonic ?? 'C';
      const mode = score.keys[0]?.key.mode ?? 'major';
      const arrangement = { key: { tonic, mode }, tempo: null, density: 'bar' } as const;
      const built = Parts.build(score, arrangement, PLAYER, { roles: ['keys'] });
      if (built.ok) yield { part: built.value, width: [1180, 820, 390][round % 3] ?? 1180 };
    }
  }
}

const rss = () => process.memoryUsage.rss() / MEGABYTE;
const rounded = (value: number) => Math.round(value * 10) / 10;

/** By itself, as a process that made other things before is larger already. */
function everyPart(): Row[] {
  const here = (file: string) => fileURLToPath(new URL(file, import.meta.url));
  const said = execFileSync(
    process.execPath,
    ['--import', here('./typescript.mjs'), here('./parts-memory.ts')],
    { encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] },
  );
  const memory = JSON.parse(said) as number[];
  const [before = NaN, parts = NaN, sheets = NaN, , second = NaN, , third = NaN] = memory;
  const mb = Math.round;
  return [
    {
      name: 'memory after every part in 12 keys and 50 sheets of them / before',
      ratio: sheets / before,
      limit: null,
      detail: `${mb(before)} MB with the engraver warm, ${mb(parts)} MB after the parts, ${mb(sheets)} MB after the sheets`,
    },
    {
      name: 'the same a third time, other sheets / the second time',
      ratio: third / second,
      limit: 1 + GROWTH,
      detail: `${mb(second)} and ${mb(third)} MB`,
    },
  ];
}

export async function bench(): Promise<Row[]> {
  const renderer = createRenderer();
  const source = sheets();
  const times: number[] = [];
  const first: number[] = [];
  async function engrave(count: number): Promise<void> {
    for (let i = 0; i < count; i++) {
      const { value } = source.next() as IteratorYieldResult<{ part: Part; width: number }>;
      const began = performance.now();
      const page = { width: value.width, textScale: 1, verse: 1 } as const;
      const engraved: Engraved = await renderer.engrave(Sheets.request(value.part, page));
      times.push(performance.now() - began);
      first.push(gzipSync(engraved.glyphs + (engraved.systems[0]?.svg ?? '')).length / 1024);
    }
  }
  await engrave(SHEETS);
  const after = rss();
  await engrave(SHEETS);
  const later = rss();
  await renderer.close();
  return [
    {
      name: 'memory after a hundred sheets / 350 MB',
      ratio: after / LIMIT,
      limit: 1,
      detail: `${Math.round(after)} MB in this process, engraver’s thread included; after two hundred ${Math.round(later)} MB`,
    },
    {
      name: 'memory after two hundred / after a hundred',
      ratio: later / after,
      limit: 1 + GROWTH,
      detail: `${rounded(median(times))} ms a sheet at the median; first system with its glyphs ${rounded(Math.max(...first))} KB gzip at most`,
    },
    ...everyPart(),
  ];
}
