import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ChordSymbol, CountIn, Form, Midi, Pitches, QUARTER, type Chord, type Score } from '#music';
import { anyScore as scoreOfAbc } from '#test/support/arbitrary-score.ts';
import { anyScore as scoreOfVoices } from '#test/support/generated-scores.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { heardTracks, sounding, sungWords, type Heard } from '#test/support/midi-heard.ts';
import { buildScore } from '#test/support/score-builder.ts';

// Everything here is heard by the parser of midi-file 1.2.4, which shares no code with ours.

const chord = (text: string): Chord => {
  const read = ChordSymbol.read(text);
  if (!read.ok) throw new Error(text);
  return read.value;
};

const pickup = (): Score =>
  buildScore({
    key: 'G',
    meter: '4/4',
    voices: { tune: 'D4 | G4 G4 A4 B4 | G4:3' },
    words: ['A- men, a- men, a- men.'],
    tempo: 90,
    chords: [
      [1, chord('G')],
      [3, chord('D7/F#')],
      [5, null],
    ],
  });

const named = (tracks: readonly Heard[], name: string): Heard => {
  const found = tracks.find((track) => track.name === name);
  if (!found) throw new Error(`no track ${name}`);
  return found;
};

const quarters = (track: Heard): string[] =>
  track.notes.map(({ at, midi }) => `${String(at / QUARTER)} ${String(midi)}`);

describe('Any score as MIDI', () => {
  it.each([
    ['with all that a note can carry', scoreOfVoices],
    ['that ABC can hold', scoreOfAbc],
  ])('%s sounds the same to another reader, at the same moments', (_, scores) => {
    fc.assert(
      fc.property(scores, (score) => {
        const heard = heardTracks(Midi.write(score)).filter(({ channel }) => channel >= 0);
        const voices = score.voices.filter((voice) => sounding(voice).length > 0);
        expect(heard.slice(0, voices.length).map(({ notes }) => notes)).toEqual(
          voices.map(sounding),
        );
      }),
      { numRuns: 150, seed: 20261128 },
    );
  });

  it('has no more ticks to the quarter than it needs', () => {
    const division = (line: string): number => {
      const bytes = Midi.write(buildScore({ key: 'C', meter: '4/4', voices: { a: line } }));
      return ((bytes[12] ?? 0) << 8) + (bytes[13] ?? 0);
    };
    expect(division('C4 C4:1/3 C4:2/3 C4:1/16 C4:15/16 C4')).toBe(480);
    expect(division('C4:1/64 C4:63/64 C4:3')).toBe(960);
    expect(division('C4:1/7 C4:6/7 C4:3')).toBe(3360);
  });
});

describe('The count and the click', () => {
  const strokes = { countIn: true, click: true } as const;

  it('are tracks of their own on channel 10: side stick before the song, wood blocks in it', () => {
    const tracks = heardTracks(Midi.write(pickup(), strokes));
    // One beat of pickup in 4/4: one full bar is counted, then three.
    expect(quarters(named(tracks, 'Count-in'))).toEqual(
      [0, 1, 2, 3, 4, 5, 6].map((beat) => `${String(beat)} 37`),
    );
    expect(named(tracks, 'Count-in').channel).toBe(9);
    expect(quarters(named(tracks, 'Click')).slice(0, 6)).toEqual([
      '7 77',
      '8 76',
      '9 77',
      '10 77',
      '11 77',
      '12 76',
    ]);
    expect(named(tracks, 'tune').notes[0]).toMatchObject({ at: 7 * QUARTER, midi: 62 });
  });

  it.each(HYMN_FILES)('%s: the singers enter where the count says', (file) => {
    const score = hymn(file);
    const { enterAt, counts, beat } = CountIn.of(score);
    const tracks = heardTracks(Midi.write(score, { countIn: true }));
    const tune = tracks.find(({ words }) => words.length > 0);
    expect(tune?.notes[0]?.at).toBe(enterAt);
    const count = tracks.find(({ name }) => name === 'Count-in');
    expect(count?.notes.map(({ at }) => at) ?? []).toEqual(counts.map((_, i) => i * beat));
  });

  it('are in two for 6/8, and not at all without a meter', () => {
    const six = buildScore({ key: 'C', meter: '6/8', voices: { a: 'C4:3 C4:3' } });
    expect(quarters(named(heardTracks(Midi.write(six, strokes)), 'Click'))).toEqual([
      '3 76',
      '4.5 77',
      '6 76',
      '7.5 77',
    ]);
    const free = buildScore({ key: 'C', meter: 'none', voices: { a: 'C4:3 | C4:3' } });
    expect(heardTracks(Midi.write(free, strokes)).some(({ name }) => name === 'Count-in')).toBe(
      false,
    );
  });

  it('are left out when the file is read, and the pickup is one again', () => {
    const read = Midi.read(Midi.write(pickup(), strokes));
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    const { bars, melody, voices } = read.value;
    expect(bars.map(({ number, length }) => [number, length / QUARTER])).toEqual([[0, 1], [1, 4], [2, 3]]); // prettier-ignore
    expect(voices.find(({ id }) => id === melody)?.notes[0]).toMatchObject({
      at: 0,
      pitches: ['D4'],
    });
  });
});

describe('Chords', () => {
  it('are held under a tune that stands alone, their tones at their moments, and named as text', () => {
    const track = named(heardTracks(Midi.write(pickup())), 'Chords');
    const at = (beat: number): string[] =>
      [
        ...new Set(
          track.notes
            .filter((note) => note.at === beat * QUARTER)
            .map(({ midi }) => String(midi % 12)),
        ),
      ].sort();
    expect(at(1)).toEqual(['11', '2', '7']);
    expect(at(3)).toEqual(['0', '2', '6', '9']);
    expect(track.notes.find((note) => note.at === 3 * QUARTER)).toMatchObject({
      midi: Pitches.midiOf('F#3'),
    });
    expect(at(5)).toEqual([]);
    expect(track.texts).toEqual([`${String(QUARTER)} G`, `${String(3 * QUARTER)} D7/F#`, `${String(5 * QUARTER)} N.C.`]); // prettier-ignore
  });

  it('come back as chord symbols, not as a voice', () => {
    const read = Midi.read(Midi.write(pickup()));
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    expect(read.value.voices).toHaveLength(1);
    expect(read.value.chords).toEqual(pickup().chords);
  });
});

describe('The whole form', () => {
  it('has every pass with its own words, named at its beginning', () => {
    const song = hymn('Amazing_Grace-New_Britain.abc');
    const stretches = Form.unfold(song);
    const tracks = heardTracks(Midi.write(song, { passes: 'form' }));
    const once = heardTracks(Midi.write(song));
    const tune = tracks.find(({ words }) => words.length > 0);
    const [melody] = song.voices;
    if (!melody) throw new Error('no tune');
    const words = stretches.flatMap(({ pass, playedAt }) => {
      const verse = song.verses.findIndex(({ number }) => number === pass.verse);
      return sungWords(melody, verse).map((each) => {
        const [at, ...text] = each.split(' ');
        return [String(Number(at) + playedAt), ...text].join(' ');
      });
    });
    expect(tune?.words).toEqual(words);
    expect(tune?.notes.length).toBe(
      (once.find((each) => each.words.length > 0)?.notes.length ?? 0) * stretches.length,
    );
    const texts = tracks[0]?.texts.filter((text) => /Verse/.test(text)) ?? [];
    expect(texts).toEqual(
      stretches.map(({ playedAt }, i) => `${String(playedAt)} Verse ${String(i + 1)}`),
    );
  });

  it('plays repeats and endings', () => {
    const plain = buildScore({ key: 'C', meter: '4/4', voices: { a: 'C4:4 | D4:4 | E4:4' } });
    const bars = plain.bars.map((bar, i) => ({ ...bar, repeatStart: i === 0, repeatEnd: i === 1, endings: i === 0 ? [] : [i] })); // prettier-ignore
    const score = { ...plain, bars };
    const [tune] = heardTracks(Midi.write(score, { passes: 'form' })).filter(
      ({ notes }) => notes.length > 0,
    );
    expect(tune?.notes.map(({ midi }) => midi)).toEqual([60, 62, 60, 64]);
  });
});

describe('What is asked for', () => {
  it('are the voices named and the tempo given', () => {
    const song = hymn('Abide_With_Me-Eventide.abc');
    const bytes = Midi.write(song, { parts: ['S2V2'], tempo: { beat: QUARTER, perMinute: 60 } });
    const read = Midi.read(bytes);
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    expect(read.value.voices.map(({ name }) => name)).toEqual(['S2V2']);
    expect(read.value.tempo).toEqual({ beat: QUARTER, perMinute: 60 });
  });

  it('is refused where there is nothing to write', () => {
    expect(() => Midi.write({ ...pickup(), voices: [] })).toThrow(RangeError);
  });
});
