import { beforeAll, describe, expect, it } from 'vitest';
import { Midi, MusicXml, QUARTER, type Score } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import {
  allNotes,
  heardTracks,
  sounding,
  sungWords,
  together,
  type HeardNote,
} from '#test/support/midi-heard.ts';
import { makeEngraver, type Engraver } from '#test/support/verovio.ts';

function reread(bytes: Uint8Array): Score {
  const read = Midi.read(bytes);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}

describe('What is written as MIDI is what an independent reader (midi-file 1.2.4) hears', () => {
  it.each(HYMN_FILES)('%s: the notes and the words of every voice', (file) => {
    const score = hymn(file);
    const heard = heardTracks(Midi.write(score)).filter(({ notes }) => notes.length > 0);
    expect(heard.map(({ name }) => name)).toEqual(score.voices.map(({ name }) => name));
    expect(heard.map(({ notes }) => notes)).toEqual(score.voices.map(sounding));
    expect(heard.map(({ words }) => words)).toEqual(score.voices.map((voice) => sungWords(voice)));
  });
});

describe('What was written as MIDI is read again', () => {
  it.each(HYMN_FILES)('%s: onsets, lengths, pitches, syllables, meters, keys and bars', (file) => {
    const score = hymn(file);
    const read = reread(Midi.write(score));
    expect(read.voices.map(sounding)).toEqual(score.voices.map(sounding));
    expect(read.voices.map((voice) => sungWords(voice))).toEqual(
      score.voices.map((voice) => sungWords(voice)),
    );
    // Where there is no meter, MIDI has one for each bar.
    if (score.meters[0]?.meter.beats !== null) expect(read.meters).toEqual(score.meters);
    expect(read.bars.map(({ at, length }) => [at, length])).toEqual(
      score.bars.map(({ at, length }) => [at, length]),
    );
    expect(read.keys.map(({ at, signature }) => [at, signature])).toEqual(
      score.keys.map(({ at, signature }) => [at, signature]),
    );
    expect(read.facts.title).toBe(score.facts.title);
    expect(read.facts.rights).toBe(score.facts.rights);
  });
});

/**
 * Independent writer: the engraving library Verovio 6.3.0 makes MIDI of our MusicXML. It plays repeats, so hymns that have
 * one are compared by their form, and it holds no two voices of one staff apart.
 */
describe('The MIDI of an independent program (Verovio)', () => {
  let engraver: Engraver;
  beforeAll(async () => {
    engraver = await makeEngraver();
  });

  const byVerovio = (score: Score): Uint8Array => {
    engraver.loadData(MusicXml.write(score, { chords: false }));
    return Uint8Array.from(Buffer.from(engraver.renderToMIDI(), 'base64'));
  };
  /** It ends every note a tick of 120 to the quarter early. */
  const fullLength = (note: HeardNote): HeardNote => ({
    ...note,
    length: note.length + QUARTER / 120,
  });
  const plain = HYMN_FILES.filter((file) => !hymn(file).bars.some(({ repeatEnd }) => repeatEnd));

  it('is of most hymns', () => {
    expect(plain.length).toBeGreaterThanOrEqual(20);
  });

  it.each(plain)('%s: sounds at the same moments and lengths as ours', (file) => {
    const score = hymn(file);
    const theirs = heardTracks(byVerovio(score)).flatMap(({ notes }) => notes.map(fullLength));
    const ours = heardTracks(Midi.write(score)).flatMap(({ notes }) => notes);
    expect(together(ours)).toEqual(together(theirs));
  });

  it.each(plain)('%s: is read as the hymn', (file) => {
    const score = hymn(file);
    const read = reread(byVerovio(score));
    expect(together(allNotes(read))).toEqual(together(allNotes(score)));
  });
});
