/**
 * Makes `abc2midi-notes.csv` anew where abc2midi is installed (Debian package abcmidi):
 * `npx tsx test/reference/tables/abc2midi-notes.make.ts`. Tests read the table, never the program.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseMidi } from 'midi-file';

const hymns = fileURLToPath(new URL('../../../seed-data/hymns/', import.meta.url));
const table = fileURLToPath(new URL('abc2midi-notes.csv', import.meta.url));
const version = execFileSync('abc2midi', ['-ver'], { encoding: 'utf8' }).trim();
const folder = mkdtempSync(join(tmpdir(), 'abc2midi-'));
const rows = [
  `# Sounding notes of seed-data/hymns by abc2midi ${version} (Debian package abcmidi): abc2midi FILE -o OUT.mid`,
  '# Made by test/reference/tables/abc2midi-notes.make.ts. A row is a track of the MIDI file that has notes, in order.',
  '# on:pitch in 480ths of a quarter note and MIDI numbers, ties joined; the first note of abc2midi stands at tick 1,',
  '# which is taken off here.',
  'file,track,notes,on:pitch',
];
try {
  for (const file of readdirSync(hymns).sort()) {
    const out = join(folder, 'out.mid');
    execFileSync('abc2midi', [join(hymns, file), '-o', out], { stdio: 'pipe' });
    const midi = parseMidi(readFileSync(out));
    for (const [track, events] of midi.tracks.entries()) {
      let at = -1;
      const notes: [number, number][] = [];
      for (const event of events) {
        at += event.deltaTime;
        if (event.type === 'noteOn' && event.velocity > 0) notes.push([at, event.noteNumber]);
      }
      if (notes.length === 0) continue;
      notes.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
      const list = notes.map(([on, pitch]) => `${String(on)}:${String(pitch)}`).join(' ');
      rows.push(`${file},${String(track)},${String(notes.length)},${list}`);
    }
  }
} finally {
  rmSync(folder, { recursive: true });
}
writeFileSync(table, `${rows.join('\n')}\n`);
