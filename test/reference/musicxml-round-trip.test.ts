import { unzipSync } from 'fflate';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  CHORD_KINDS,
  MusicXml,
  Pitches,
  QUARTER,
  Scores,
  type Chord,
  type Note,
  type Score,
} from '#music';
import { anyScore as anySong } from '#test/support/arbitrary-score.ts';
import { anyScore as anyNotes } from '#test/support/generated-scores.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { schemaErrors } from '#test/support/musicxml-schema.ts';
import { buildScore } from '#test/support/score-builder.ts';

function again(score: Score): unknown {
  const read = MusicXml.read(MusicXml.write(score));
  return read.ok ? read.value : read.problems;
}

/** A staff has one clef in MusicXML: the one of its first voice. */
function oneClefAStaff(score: Score): Score {
  const clefs = new Map(score.voices.toReversed().map(({ staff, clef }) => [staff, clef]));
  const voices = score.voices.map((voice) => ({
    ...voice,
    clef: clefs.get(voice.staff) ?? voice.clef,
  }));
  return { ...score, voices };
}

/** Of what `write` says that MusicXML cannot hold, all that these invented notes have. */
function heldNotes(notes: readonly Note[]): Note[] {
  let open = 0;
  return notes.map((note, i) => {
    const { tie, beam, slurStarts = 0, slurEnds = 0, syllables, ...rest } = note;
    const next = notes[i + 1];
    const ends = Math.min(open, slurEnds);
    const starts = notes.slice(i + 1).some((each) => each.slurEnds) ? slurStarts : 0;
    open += starts - ends;
    const leads = tie && next && note.pitches.some((pitch) => next.pitches.includes(pitch));
    return {
      ...rest,
      ...(leads && { tie }),
      ...(ends > 0 && { slurEnds: ends }),
      ...(starts > 0 && { slurStarts: starts }),
      ...(syllables?.some(Boolean) && { syllables }),
      ...(beam && { beam }),
    };
  });
}

const withoutBeams = (notes: readonly Note[]): Note[] =>
  notes.map(({ beam: _beam, ...note }) => note);

/** Lengths are compared as they sound: what only a tuplet says comes back as one. */
const withoutTuplets = (notes: readonly Note[]): Note[] =>
  notes.map(({ tuplet: _tuplet, ...note }) => note);

/** Low to high, as a score has them: the generated ones go by their letters. */
function lowToHigh(notes: readonly Note[]): Note[] {
  return notes.map((note) => {
    const fingers = new Map(note.pitches.map((name, i) => [name, note.fingers?.[i]]));
    const pitches = note.pitches.toSorted((a, b) => Pitches.midiOf(a) - Pitches.midiOf(b));
    const sorted = pitches.flatMap((name) => fingers.get(name) ?? []);
    return { ...note, pitches, ...(sorted.length > 0 && { fingers: sorted }) };
  });
}

function comparable(score: Score): unknown {
  const { voices, keys, bars, chords, ...rest } = score;
  return {
    ...rest,
    keys,
    bars: bars.map((bar) => (bar.repeatEnd ? { ...bar, line: 'final' } : bar)),
    chords: chords.map(({ at, chord }) => ({ at, chord: chord?.kind === 'none' ? null : chord })),
    voices: voices.map((voice) => ({
      ...voice,
      notes: withoutTuplets(withoutBeams(heldNotes(lowToHigh(voice.notes)))),
    })),
  };
}

describe('What is written as MusicXML comes back the same', () => {
  it.each(HYMN_FILES)('%s', (file) => {
    const score = hymn(file);
    expect(again(score)).toEqual(score);
  });

  it('any song of those that ABC can hold', { timeout: 120_000 }, () => {
    fc.assert(
      fc.property(anySong, (song) => {
        const score = oneClefAStaff(song);
        expect(again(score)).toEqual(score);
      }),
      { numRuns: 200, seed: 20260102 },
    );
  });

  it(
    'notes across bar lines, odd ties, slurs and chords: all but what `write` says',
    { timeout: 120_000 },
    () => {
      fc.assert(
        fc.property(anyNotes, (score) => {
          expect(comparable(again(score) as Score)).toEqual(comparable(score));
        }),
        { numRuns: 150, seed: 20260103 },
      );
    },
  );

  it('and once more exactly: what was read is what MusicXML can hold', { timeout: 120_000 }, () => {
    fc.assert(
      fc.property(anyNotes, (score) => {
        const first = again(score) as Score;
        expect(again(first)).toEqual(first);
      }),
      { numRuns: 100, seed: 20260104 },
    );
  });

  it('vamps, pedal, words above, ways through the song, a compass, keys that a person decided on', () => {
    const bare = buildScore({
      key: 'E minor',
      meter: '3/4',
      voices: {
        tune: 'E4 | G4 A4 B4 | B4:2 A4 | G4:3 | E4:2',
        low: 'E3 | E3:3 | B2:3 | E3:3 | E3:2',
      },
      words: ['Bright- ness of morn- ing has come now'],
    });
    const [tune, low] = bare.voices;
    if (!tune || !low) throw new Error('two voices');
    const marked: Score = {
      ...bare,
      facts: { ...bare.facts, title: 'Made up', rights: 'Public domain', subtitles: ['Another'] },
      keys: bare.keys.map((key) => ({
        ...key,
        sure: false,
        reason: 'It could be either.',
        others: [{ tonic: 'G', mode: 'major' }],
      })),
      voices: [
        {
          ...tune,
          notes: tune.notes.map((note, i) => ({
            ...note,
            ...(i === 1 && { signs: ['segno'], above: 'softly' }),
            ...(i === 5 && { signs: ['D.S.alfine'] }),
            ...(i === 6 && { signs: ['fine', 'trill'].toReversed() }),
          })),
        },
        {
          ...low,
          notes: low.notes.map((note, i) => ({
            ...note,
            ...(i === 1 && { pedal: 'down' as const }),
            ...(i === 2 && { pedal: 'change' as const }),
            ...(i === 3 && { pedal: 'up' as const, above: 'slower' }),
          })),
        },
      ],
      sections: [
        { id: 'a', kind: 'verse', name: 'Verse', from: 0, to: 4 * QUARTER },
        {
          id: 'loop',
          kind: 'vamp',
          name: 'While people pray',
          from: 4 * QUARTER,
          to: 12 * QUARTER,
          loop: { cue: 'after “Lord, hear us”', amen: true },
        },
      ],
      form: [
        { section: 'loop', verse: null },
        { section: 'a', verse: 1 },
      ],
      introduction: [{ from: QUARTER, to: 4 * QUARTER }],
      compass: { low: 'E4', high: 'B4', mostly: { low: 'G4', high: 'B4' } },
    };
    expect(again(marked)).toEqual(marked);
    // Another program has taken the last bar away, and carries the note along.
    const cut = MusicXml.write(marked).replace(/<measure number="4"[\s\S]*?<\/measure>/g, '');
    const read = MusicXml.read(cut);
    if (!read.ok) throw new Error(read.problems[0]?.message);
    expect(Scores.check(read.value)).toEqual([]);
    expect(read.value.sections.map(({ name }) => name)).toEqual(['Verse', 'While people pray']);
    expect(read.value.voices[0]?.notes[1]).toMatchObject({ signs: ['segno'], above: 'softly' });
  });
});

/** `kind-value` of musicxml.xsd, MusicXML 4.0. */
describe('The 33 chord kinds', () => {
  const kinds = CHORD_KINDS.filter((kind) => kind !== 'none').map((kind, i): Chord => ({
    root: 'Bb',
    kind,
    degrees:
      i % 3 === 0
        ? [
            { type: 'add', value: 9, alter: -1 },
            { type: 'alter', value: 5, alter: 1 },
          ]
        : i % 3 === 1
          ? [{ type: 'subtract', value: 3, alter: 0 }]
          : [],
    bass: i % 2 === 0 ? 'D' : null,
  }));

  it('come back with degrees and bass, and no chord is no chord', () => {
    const chords = [...kinds, null];
    const score = buildScore({
      key: 'F',
      meter: '4/4',
      voices: { a: Array(33).fill('C5:4').join(' ') },
      chords: chords.map((chord, index) => [4 * index + (index % 4) / 2, chord] as const),
    });
    expect(chords).toHaveLength(33);
    const read = again(score) as Score;
    expect(read.chords).toEqual(score.chords);
  });
});

describe('Compressed MusicXML (MusicXML 4.0, “Compressed .mxl files”)', () => {
  const score = hymn('Holy_Holy_Holy-Nicaea.abc');

  it('comes back the same, and the same song is the same bytes', () => {
    const bytes = MusicXml.compress(score);
    const read = MusicXml.read(bytes);
    expect(read.ok && read.value).toEqual(score);
    expect(MusicXml.compress(MusicXml.write(score))).toEqual(bytes);
  });

  it('begins with its type, not packed, and names its score in the container', () => {
    const bytes = MusicXml.compress(score);
    const text = Buffer.from(bytes).toString('latin1');
    expect(text.slice(30, 38)).toBe('mimetype');
    expect(text.slice(38, 72)).toBe('application/vnd.recordare.musicxml');
    const files = unzipSync(bytes);
    const container = Buffer.from(files['META-INF/container.xml'] ?? []).toString();
    const path = /full-path="([^"]+)"/.exec(container)?.[1] ?? '';
    expect(Buffer.from(files[path] ?? []).toString()).toBe(MusicXml.write(score));
  });
});

describe('MusicXML against the W3C schema of MusicXML 4.0 (musicxml.xsd, libxml2)', () => {
  it('is valid for 60 songs with everything that ABC can hold, and for every chord kind', async () => {
    const songs = fc.sample(anySong, { numRuns: 60, seed: 20260105 });
    const files = songs.map((song, i) => [`${String(i)}.musicxml`, MusicXml.write(song)] as const);
    expect(await schemaErrors(Object.fromEntries(files))).toEqual([]);
  }, 60_000);
});

/** MusicXML 4.0, element `supports`: type “no” means that a reader decides on beams by itself. */
describe('What MusicXML says of beams', () => {
  const supports = (score: Score) =>
    /<supports element="beam" type="(\w+)"/.exec(MusicXml.write(score))?.[1];
  const eighths = buildScore({ key: 'C', meter: '2/4', voices: { tune: 'C4:1/2 D4:1/2 E4' } });

  it('is nothing where the song has none, so that eighths are beamed by whoever reads them', () => {
    expect(supports(eighths)).toBe('no');
  });

  it('is what they are where it has', () => {
    const [voice] = eighths.voices;
    if (!voice) throw new Error('it has a voice');
    const notes = voice.notes.map((note, i): Note => (i === 0 ? { ...note, beam: true } : note));
    expect(supports({ ...eighths, voices: [{ ...voice, notes }] })).toBe('yes');
  });
});
