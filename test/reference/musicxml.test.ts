import fc from 'fast-check';
import { parseMidi } from 'midi-file';
import { beforeAll, describe, expect, it } from 'vitest';
import { CHORD_KINDS, MusicXml, Pitches, QUARTER, Time, type Chord, type Score } from '#music';
import { anyScore } from '#test/support/generated-scores.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { schemaErrors } from '#test/support/musicxml-schema.ts';
import { buildScore } from '#test/support/score-builder.ts';
import { makeEngraver, type Engraver } from '#test/support/verovio.ts';

/** Seeded, so that a failure is the same tomorrow. */
const generated = fc.sample(anyScore, { numRuns: 60, seed: 20221125 });

describe('MusicXML against the W3C schema of MusicXML 4.0 (musicxml.xsd, libxml2)', () => {
  it('is valid for all 24 hymns of the Open Hymnal Project, every voice and verse', async () => {
    const files = Object.fromEntries(
      HYMN_FILES.map((file) => [`${file}.musicxml`, MusicXml.write(hymn(file))]),
    );
    expect(Object.keys(files)).toHaveLength(24);
    expect(await schemaErrors(files)).toEqual([]);
  }, 60_000);

  it('is valid for 60 generated scores with ties, tuplets, graces, slurs, repeats, chords and odd words', async () => {
    const files = generated.map(
      (score, index) => [`${index}.musicxml`, MusicXml.write(score)] as const,
    );
    expect(await schemaErrors(Object.fromEntries(files))).toEqual([]);
  }, 60_000);

  it('is valid for each of the 33 chord kinds, as data and as printed', async () => {
    const kinds = CHORD_KINDS.map((kind): Chord => ({
      root: 'Bb',
      kind,
      degrees: [{ type: 'add', value: 9, alter: -1 }],
      bass: 'D',
    }));
    const score = buildScore({
      key: 'F',
      meter: '4/4',
      voices: { a: Array(33).fill('C5:4').join(' ') },
      chords: kinds.map((chord, index) => [4 * index, chord] as const),
    });
    const written = MusicXml.write(score);
    expect(
      await schemaErrors({
        'apart.musicxml': written,
        'printed.musicxml': MusicXml.write(score, { chords: 'printed' }),
      }),
    ).toEqual([]);
    expect([...written.matchAll(/<kind[^>]*>([^<]+)<\/kind>/g)].map((match) => match[1])).toEqual([
      ...CHORD_KINDS,
    ]);
  }, 60_000);

  it('catches a file that is not valid (so that the checks above mean something)', async () => {
    const broken = MusicXml.write(hymn('Amazing_Grace-New_Britain.abc'))
      .replace('<duration>', '<length>')
      .replace('</duration>', '</length>');
    expect(await schemaErrors({ 'broken.musicxml': broken })).not.toEqual([]);
  });
});

function withoutGraces(score: Score): Score {
  const voices = score.voices.map((voice) => ({
    ...voice,
    notes: voice.notes.map(({ grace: _grace, ...note }) => note),
  }));
  return { ...score, voices };
}

/** Onset in 24ths of a quarter (they hold 32nds and triplets; MIDI rounds) and MIDI number, of every note that begins to sound. */
function onsetsOf(score: Score): string[] {
  return score.voices
    .flatMap((voice) => Time.soundingNotes(voice))
    .map(({ at, pitch }) => `${Math.round((at * 24) / QUARTER)} ${Pitches.midiOf(pitch)}`)
    .sort();
}

describe('MusicXML read by Verovio 6.3.0', () => {
  let toolkit: Engraver;
  beforeAll(async () => {
    toolkit = await makeEngraver();
  }, 60_000);

  /** What Verovio plays: through its own MIDI, read by midi-file. Repeats are not unfolded. */
  function playedBy(xml: string): string[] {
    toolkit.setOptions({ expandNever: true });
    expect(toolkit.loadData(xml)).toBeTruthy();
    const midi = parseMidi(Buffer.from(toolkit.renderToMIDI(), 'base64'));
    const perQuarter = midi.header.ticksPerBeat ?? 1;
    const onsets: string[] = [];
    for (const track of midi.tracks) {
      let at = 0;
      for (const event of track) {
        at += event.deltaTime;
        if (event.type === 'noteOn' && event.velocity > 0)
          onsets.push(`${Math.round((at * 24) / perQuarter)} ${event.noteNumber}`);
      }
    }
    return onsets.sort();
  }

  it.each(HYMN_FILES)(
    '%s: the same notes at the same moments in all voices',
    (file) => {
      const score = hymn(file);
      expect(playedBy(MusicXml.write(score))).toEqual(onsetsOf(score));
    },
    60_000,
  );

  it('reads the 60 generated scores alike (graces left out: when they sound is the player’s choice)', () => {
    for (const score of generated.map(withoutGraces)) {
      expect(playedBy(MusicXml.write(score))).toEqual(onsetsOf(score));
    }
  }, 60_000);

  it('prints every syllable of every verse once', () => {
    const score = hymn('Amazing_Grace-New_Britain.abc');
    const syllables = score.voices
      .flatMap(({ notes }) => notes.flatMap((note) => note.syllables ?? []))
      .filter((syllable) => syllable !== null);
    toolkit.loadData(MusicXml.write(score));
    const mei = toolkit.getMEI({});
    expect([...mei.matchAll(/<syl[ >]/g)]).toHaveLength(syllables.length);
  });
});
