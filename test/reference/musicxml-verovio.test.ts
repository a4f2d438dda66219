import { beforeAll, describe, expect, it } from 'vitest';
import { MusicXml, Pitches, QUARTER, type Score, type Voice } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { meiVoices, type MeiNote } from '#test/support/mei-voices.ts';
import { makeEngraver, type Engraver } from '#test/support/verovio.ts';

const rounded = (quarters: number): number => Math.round(quarters * 1e6) / 1e6;

/** The notes of a voice as they are written, with the words under them. */
function writtenNotes(voice: Voice): MeiNote[] {
  return voice.notes
    .filter(({ pitches }) => pitches.length > 0)
    .map(({ at, length, pitches, tie, syllables = [] }) => ({
      at: rounded(at / QUARTER),
      length: rounded(length / QUARTER),
      pitches,
      tied: tie === true,
      words: Object.fromEntries(
        syllables.flatMap((each, verse) =>
          each ? [[verse + 1, `${each.text}${each.hyphen ? '-' : ''}`]] : [],
        ),
      ),
    }));
}

function readAgain(score: Score): Score {
  const read = MusicXml.read(MusicXml.write(score));
  if (!read.ok) throw new Error(read.problems[0]?.message);
  return read.value;
}

const midi = Pitches.midiOf;

/**
 * Two readers of one file, written here from each hymn: our own, and Verovio 6.3.0, whose understanding is read from
 * the MEI that it makes of it.
 */
describe('A hymn written as MusicXML is to Verovio what it is to us', () => {
  let toolkit: Engraver;
  beforeAll(async () => {
    toolkit = await makeEngraver();
  }, 60_000);

  it.each(HYMN_FILES)(
    '%s: pitches, onsets, lengths, ties and syllables of every voice and verse',
    (file) => {
      const score = hymn(file);
      expect(toolkit.loadData(MusicXml.write(score))).toBeTruthy();
      const theirs = meiVoices(toolkit.getMEI({})).map((notes) =>
        notes.map(({ at, length, pitches, ...rest }) => ({
          ...rest,
          at: rounded(at),
          length: rounded(length),
          pitches: pitches.toSorted((a, b) => midi(a) - midi(b)),
        })),
      );
      const ours = readAgain(score).voices.map(writtenNotes);
      expect(ours.flat().length).toBeGreaterThan(100);
      expect(theirs).toEqual(ours);
    },
    60_000,
  );
});
