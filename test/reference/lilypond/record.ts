/**
 * Records anew what LilyPond makes of our MusicXML, where LilyPond is installed (Debian package lilypond, which brings
 * musicxml2ly): `npx tsx test/reference/lilypond/record.ts`. It takes some minutes. Tests read the recording, never the
 * programs.
 *
 * Each score is written as MusicXML, made LilyPond input by musicxml2ly, and played by LilyPond into MIDI: without
 * articulation, which would shorten notes, without playing repeats twice, and with each voice in a track of its own.
 * The MIDI is read by midi-file, which shares no code with ours.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { format } from 'prettier';
import { heardTracks } from '#test/support/midi-heard.ts';
import { hashOf, inTicks, plain, scoresToRecord, sorted, xmlOf, type Recorded } from './scores.ts';

const VOICES_APART =
  '\\midi { \\context { \\Staff \\remove "Staff_performer" } \\context { \\Voice \\consists "Staff_performer" } ';

const folder = mkdtempSync(join(tmpdir(), 'lilypond-'));
const run = (program: string, ...args: string[]): string =>
  execFileSync(program, args, { cwd: folder, encoding: 'utf8', stdio: 'pipe' });
const versionOf = (program: string): string => run(program, '--version').split('\n')[0] ?? '';

function heard(xml: string): Pick<Recorded, 'voices' | 'words'> {
  writeFileSync(join(folder, 'song.musicxml'), xml);
  run('musicxml2ly', '-m', '-o', 'song.ly', 'song.musicxml');
  const input = readFileSync(join(folder, 'song.ly'), 'utf8')
    .replace('\\unfoldRepeats \\articulate', '')
    .replace('\\midi {', VOICES_APART);
  writeFileSync(join(folder, 'played.ly'), input);
  run('lilypond', '--loglevel=ERROR', '-dno-print-pages', '-o', 'played', 'played.ly');
  const tracks = heardTracks(readFileSync(join(folder, 'played.midi')));
  const voices = tracks.map(({ notes }) =>
    notes
      .map(({ at, length, midi }) => [inTicks(at), inTicks(length), midi] as const)
      .sort((a, b) => a[0] - b[0] || a[2] - b[2])
      .map((each) => each.join(':'))
      .join(' '),
  );
  const words = tracks.map(({ words: sung }) =>
    sung
      .map((each) => /^(\d+) (.*)$/su.exec(each))
      .map((match) => `${String(inTicks(Number(match?.[1])))}:${plain(match?.[2] ?? '')}`)
      .join('|'),
  );
  return sorted({ voices, words });
}

const scores: Recorded[] = [];
try {
  for (const [name, score] of scoresToRecord()) {
    const xml = xmlOf(score);
    scores.push({ name, sha256: hashOf(xml), ...heard(xml) });
    process.stdout.write(`${name}\n`);
  }
  const recording = {
    musicxml2ly: versionOf('musicxml2ly'),
    lilypond: versionOf('lilypond'),
    scores,
  };
  const text = await format(JSON.stringify(recording), { parser: 'json', printWidth: 100 });
  writeFileSync(new URL('recording.json', import.meta.url), text);
} finally {
  rmSync(folder, { recursive: true });
}
