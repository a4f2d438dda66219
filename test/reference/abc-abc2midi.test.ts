import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Pitches, QUARTER, Time } from '#music';
import { hymn } from '#test/support/hymn.ts';

// Independent reading: abc2midi 4.84 (Debian package abcmidi); command and version in the table's header.
const rows = readFileSync(new URL('tables/abc2midi-notes.csv', import.meta.url), 'utf8')
  .split('\n')
  .filter((line) => line !== '' && !line.startsWith('#'))
  .slice(1)
  .map((line) => line.split(','));

/**
 * The one way of its own that abc2midi has here: it strikes the second note of a chord 10 ticks late (Nun danket, bar 1,
 * [F2c2]: F at 0, C at 10). The shortest note of the hymns has 120 ticks, so onsets are taken to 60.
 */
function together(note: string): string {
  const [at = 0, pitch = 0] = note.split(':').map(Number);
  return `${String(at - (at % 60))}:${String(pitch)}`;
}

const files = [...new Set(rows.map(([file]) => file ?? ''))];

describe('Every voice sounds as an independent reader (abc2midi) has it', () => {
  it('has all 24 hymns in its table', () => {
    const published = readdirSync(new URL('../../seed-data/hymns/', import.meta.url));
    expect(files).toEqual(published.filter((file) => file.endsWith('.abc')).sort());
  });

  it.each(files)('%s: as many voices, and in each the same onsets and pitches', (file) => {
    const score = hymn(file);
    const ours = score.voices.map((voice) =>
      Time.soundingNotes(voice)
        .map(({ at, pitch }) => [(at * 480) / QUARTER, Pitches.midiOf(pitch)] as const)
        .sort((a, b) => a[0] - b[0] || a[1] - b[1])
        .map(([at, midi]) => `${String(at)}:${String(midi)}`),
    );
    const theirs = rows
      .filter((row) => row[0] === file)
      .map((row) => (row[3] ?? '').split(' ').map(together));
    expect(ours).toEqual(theirs);
    const counts = rows.filter((row) => row[0] === file).map((row) => Number(row[2]));
    expect(ours.map((notes) => notes.length)).toEqual(counts);
  });
});
