import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectedOf, hashOf, scoresToRecord, xmlOf, type Recording } from './lilypond/scores.ts';

const file = new URL('lilypond/recording.json', import.meta.url);
const recording = JSON.parse(readFileSync(file, 'utf8')) as Recording;
const scores = [...scoresToRecord()];
const recorded = new Map(recording.scores.map((each) => [each.name, each]));

const AGAIN =
  'record again, where LilyPond is installed: npx tsx test/reference/lilypond/record.ts';

/**
 * An outside reader: musicxml2ly and LilyPond (versions in the recording) read our MusicXML and played it. Pitch, onset,
 * length of every note, voice by voice, and every syllable, verse by verse.
 */
describe(`Our MusicXML as ${recording.lilypond} plays it`, () => {
  it.each(scores)('%s', (name, score) => {
    const heard = recorded.get(name);
    if (!heard) throw new Error(`${name} is not recorded; ${AGAIN}`);
    const { voices, words } = expectedOf(score);
    expect(heard.voices).toEqual(voices);
    expect(heard.words).toEqual(words);
  });

  it('is the MusicXML that is written today', () => {
    const changed = scores
      .filter(([name, score]) => recorded.get(name)?.sha256 !== hashOf(xmlOf(score)))
      .map(([name]) => name);
    expect(changed, `The MusicXML of today is another than what was played; ${AGAIN}`).toEqual([]);
    expect(recording.scores).toHaveLength(44);
  });
});
