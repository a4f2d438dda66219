/**
 * Records anew what poppler reads in our packets, where poppler is installed (Debian package poppler-utils):
 * `npx tsx test/reference/poppler/record.ts`. It takes some seconds. Tests read the recording, never the programs.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { format } from 'prettier';
import { digestOf, packetsToRecord, type Recorded, type RecordedFont } from './packets.ts';

const folder = mkdtempSync(join(tmpdir(), 'poppler-'));
const file = join(folder, 'packet.pdf');

function run(program: string, ...args: string[]): { said: string; complained: string } {
  const done = spawnSync(program, args, { encoding: 'utf8' });
  if (done.error) throw done.error;
  return { said: done.stdout, complained: done.stderr };
}

/** What one of its programs says; a complaint about the file is an error here. */
function asked(program: string, ...args: string[]): string {
  const { said, complained } = run(program, ...args);
  if (complained !== '') throw new Error(`${program}: ${complained}`);
  return said;
}

/** `ABCDEF+SourceSerif4-Regular  CID TrueType  Identity-H  yes yes yes  12  0`, under two lines of heading. */
function fontsOf(list: string): RecordedFont[] {
  const rows = list.trim().split('\n').slice(2);
  return rows.map((row) => {
    const match = /^(\S+)\s+(.+?)\s{2,}\S+\s+(yes|no)\s+(yes|no)\s+(yes|no)\s+\d+\s+\d+$/.exec(row);
    if (!match) throw new Error(`not a row of pdffonts: ${row}`);
    const [, name = '', type = '', embedded, subset, unicode] = match;
    return {
      name,
      type,
      isEmbedded: embedded === 'yes',
      isSubset: subset === 'yes',
      hasUnicode: unicode === 'yes',
    };
  });
}

/** `Page    1 size:  595.28 x 841.89 pts (A4)` of each page. */
const sizesOf = (info: string) =>
  [...info.matchAll(/^Page +\d+ size: +([\d.]+) x ([\d.]+) pts/gm)].map(
    ([, width, height]) => [Number(width), Number(height)] as const,
  );

/** `<word xMin="39.6" yMin="76.6" xMax="81.7" yMax="93.7">B♭ major</word>`. */
const accidentalsOf = (boxes: string) =>
  [...boxes.matchAll(/<word xMin="(.+?)" yMin="(.+?)" xMax="(.+?)" yMax="(.+?)">(.*?[♭♯].*?)<\/word>/g)].map(
    ([, left, top, right, bottom, text = '']) => ({
      text,
      width: Math.round(Number(right) - Number(left)),
      height: Math.round(Number(bottom) - Number(top)),
    }),
  ); // prettier-ignore

const packets: Recorded[] = [];
try {
  for await (const [each, bytes] of packetsToRecord()) {
    writeFileSync(file, bytes);
    packets.push({
      name: each.name,
      digest: digestOf(each, bytes),
      fonts: fontsOf(asked('pdffonts', file)),
      sizes: sizesOf(asked('pdfinfo', '-f', '1', '-l', '999', file)),
      lines: asked('pdftotext', '-layout', '-enc', 'UTF-8', file, '-')
        .split(/[\n\f]/)
        .map((line) => line.replace(/\s+/g, ' ').trim())
        .filter((line) => line !== ''),
      accidentals: accidentalsOf(asked('pdftotext', '-bbox', '-enc', 'UTF-8', file, '-')),
    });
    process.stdout.write(`${each.name}\n`);
  }
  const poppler = run('pdftotext', '-v').complained.split('\n')[0] ?? '';
  const text = await format(JSON.stringify({ poppler, packets }), { parser: 'json', printWidth: 100 });
  writeFileSync(new URL('recording.json', import.meta.url), text);
} finally {
  rmSync(folder, { recursive: true });
} // prettier-ignore
