import { readdirSync, readFileSync } from 'node:fs';
import { parseMidi } from 'midi-file';
import { Abc, Midi, MusicXml } from '#music';
import { makeEngraver } from '#test/support/verovio.ts';
import { compare, type Row } from './measure.ts';

/**
 * Reading the 24 hymns beside programs of others in one run: MusicXML beside Verovio 6.3.0, which loads it and lays nothing out; MIDI
 * beside the bare parse of midi-file 1.2.4, which gives events and no song (no rhythm, no bars, no names of notes).
 */
export async function bench(): Promise<Row[]> {
  const folder = new URL('../../seed-data/hymns/', import.meta.url);
  const scores = readdirSync(folder)
    .filter((file) => file.endsWith('.abc'))
    .flatMap((file) => {
      const read = Abc.read(readFileSync(new URL(file, folder)));
      return read.ok ? read.value : [];
    });
  if (scores.length !== 24) throw new Error('a hymn was not read');
  const engraver = await makeEngraver();
  const xml = scores.map((score) => MusicXml.write(score));
  const midi = scores.map((score) => Midi.write(score));
  return [
    ...rows('MusicXML', 'Verovio loadData', {
      theirs: () => xml.map((text) => engraver.loadData(text)),
      ours: () => xml.map((text) => MusicXml.read(text).ok),
    }),
    ...rows('MIDI', 'bare parse by midi-file', {
      theirs: () => midi.map((bytes) => parseMidi(bytes).tracks.length),
      ours: () => midi.map((bytes) => Midi.read(bytes).ok),
    }),
  ];
}

function rows(
  format: string,
  other: string,
  { theirs, ours }: { theirs: () => unknown[]; ours: () => boolean[] },
): Row[] {
  if (ours().includes(false)) throw new Error(`a hymn was not read as ${format}`);
  const { milliseconds, ratios } = compare([theirs, theirs, ours], 21, 1);
  const shown = (i: number): string => (milliseconds[i] ?? NaN).toFixed(1);
  return [
    {
      name: `reading 24 hymns: ${format}.read / ${other}`,
      ratio: ratios[2] ?? NaN,
      limit: null,
      detail: `${shown(2)} ms / ${shown(0)} ms`,
    },
    {
      name: `reading 24 hymns: ${other} / the same`,
      ratio: ratios[1] ?? NaN,
      limit: null,
      detail: 'A/A control: how far off 1 is chance',
    },
  ];
}
