import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { Abc, Midi, QUARTER, Scores, type Score } from '#music';
import { played, smf, type Timed } from '#test/support/midi-file-writer.ts';
import { songOf } from '#test/support/small-abc.ts';

/** [quarters from the start, length of the counted note in quarters, how many a minute], the start first. */
function tempos({ tempo, tempoChanges = [] }: Score): (readonly [number, number, number])[] {
  const all = [...(tempo ? [{ at: 0, tempo }] : []), ...tempoChanges];
  return all.map(({ at, tempo: { beat, perMinute } }) => [at / QUARTER, beat / QUARTER, perMinute]);
}

const HEAD = 'M:4/4\nL:1/4\nQ:1/4=100';
const sound = (score: Score): Score => {
  expect(Scores.check(score)).toEqual([]);
  return score;
};

// ABC 2.1, section 3.1.8 and 3.1.16: `Q:` may stand in the head, in the body and inside a line.
describe('Changes of tempo in ABC', () => {
  it.each<[string, string, (readonly [number, number, number])[]]>([
    ['inside a line', 'CDEF|[Q:1/4=60]GABc|', [[0, 1, 100], [4, 1, 60]]],
    ['on a line of their own', 'CDEF|\nQ:3/8=60\nGABc|', [[0, 1, 100], [4, 1.5, 60]]],
    ['inside a bar', 'CD[Q:1/4=60]EF|', [[0, 1, 100], [2, 1, 60]]],
    ['at the start of the music, instead of the head', '[Q:1/4=60]CDEF|', [[0, 1, 60]]],
    ['that change nothing', 'CDEF|[Q:1/4=100]GABc|', [[0, 1, 100]]],
    ['after the last note', 'CDEF|[Q:1/4=60]', [[0, 1, 100]]],
    ['that are words only', 'CDEF|[Q:"rit."]GABc|', [[0, 1, 100]]],
    ['several', 'CDEF|[Q:1/4=60]GABc|[Q:1/2=60]GABc|', [[0, 1, 100], [4, 1, 60], [8, 2, 60]]],
    ['old figures, counted in the unit of notes', 'CDEF|[Q:60]GABc|', [[0, 1, 100], [4, 1, 60]]],
  ])('%s are read', (_, music, expected) => {
    expect(tempos(sound(songOf(music, [], HEAD)))).toEqual(expected);
  }); // prettier-ignore

  it('hold from the start where the first one is said at the end of a pickup, and only there', () => {
    expect(tempos(sound(songOf('G|[Q:1/4=60]CDEF|GAB|')))).toEqual([[0, 1, 60]]);
    const late = sound(songOf('CDEF|[Q:1/4=60]GABc|'));
    expect([late.tempo, tempos(late)]).toEqual([null, [[4, 1, 60]]]);
  });

  it('belong to all voices, whichever says them', () => {
    const text = 'V:1\nCDEF|GABc|\nV:2\nC,4|[Q:1/4=60]G,4|';
    expect(tempos(sound(songOf(text, [], HEAD)))).toEqual([[0, 1, 100], [4, 1, 60]]); // prettier-ignore
    const both = 'V:1\nCDEF|[Q:1/4=60]GABc|\nV:2\nC,4|[Q:1/4=60]G,4|';
    expect(tempos(songOf(both, [], HEAD))).toEqual([[0, 1, 100], [4, 1, 60]]); // prettier-ignore
  });

  it('are written and read again, also where no voice begins a note', () => {
    const song = sound(songOf('CDEF|[Q:3/8=60]GA[Q:1/4=72.5]Bc|', [], HEAD));
    const held: Score = { ...song, tempoChanges: [{ at: 1.5 * QUARTER, tempo: { beat: QUARTER, perMinute: 50 } }] }; // prettier-ignore
    for (const score of [song, held]) {
      const again = Abc.read(Abc.write(score));
      expect(again.ok && again.value[0] && tempos(again.value[0])).toEqual(tempos(score));
    }
  });
});

/** [quarters from the start, microseconds a quarter] of every tempo event, by midi-file 1.2.4. */
function heard(bytes: Uint8Array): number[][] {
  const { header, tracks } = parseMidi(bytes);
  return tracks.flatMap((events) => {
    let at = 0;
    return events.flatMap((event) => {
      at += event.deltaTime;
      if (event.type !== 'setTempo') return [];
      return [[at / (header.ticksPerBeat ?? NaN), event.microsecondsPerBeat]];
    });
  });
}

/** So many bars of 4/4 with a note on every quarter, and tempo events between them: a file that midi-file writes. */
function midiOf(
  bars: number,
  changes: readonly (readonly [quarters: number, perMinute: number])[],
) {
  const meter = { at: 0, type: 'timeSignature', numerator: 4, denominator: 4, metronome: 24, thirtyseconds: 8 }; // prettier-ignore
  const events = changes.map(([quarters, perMinute]) => ({
    at: quarters * 480,
    type: 'setTempo',
    microsecondsPerBeat: Math.round(60_000_000 / perMinute),
  }));
  const notes = Array.from({ length: bars * 4 }, (_, i) => played(0, i * 480, 480, 60 + (i % 5)));
  const read = Midi.read(smf([[meter, ...events] as Timed[], notes.flat()]));
  if (!read.ok) throw new Error(read.problems[0]?.message);
  const told = read.warnings.filter(({ code }) => code === 'info-tempo-changes');
  return { score: sound(read.value), told: told.map(({ message }) => message) };
}

describe('Changes of tempo in MIDI', () => {
  // RP-001: a set-tempo event gives microseconds a quarter; 60 000 000 of them are a minute.
  it('are read, each in the felt beat', () => {
    const { score, told } = midiOf(8, [[0, 120], [16, 60], [30, 72.5]]); // prettier-ignore
    expect(tempos(score)).toEqual([[0, 1, 120], [16, 1, 60], [30, 1, 72.5]]); // prettier-ignore
    expect(told).toEqual([]);
  });

  it('of a performance are thinned to those that hold for two bars, which is said', () => {
    const wobble = Array.from({ length: 160 }, (_, i) => [i, 100 + ((i * 7) % 5) / 10] as const);
    const once = midiOf(40, wobble);
    expect(tempos(once.score)).toEqual([[0, 1, 100]]);
    expect(once.told).toEqual([
      'The tempo changes 159 times, as it does where somebody played; only the first is kept.',
    ]);
    const slower = midiOf(60, [...wobble, [160, 60], [200, 61], [236, 30]]);
    expect(tempos(slower.score)).toEqual([[0, 1, 100], [160, 1, 60]]); // prettier-ignore
    expect(slower.told[0]).toContain('162 times');
    expect(slower.told[0]).toContain('only the 1 that');
  });

  const song = (music: string): Score => sound(songOf(music, [], HEAD));

  it('are written where they stand, and read again', () => {
    const score = song('CDEF|[Q:1/4=60]GA[Q:3/8=60]Bc|');
    const bytes = Midi.write(score);
    expect(heard(bytes)).toEqual([[0, 600_000], [4, 1_000_000], [6, 666_667]]); // prettier-ignore
    const again = Midi.read(bytes);
    expect(again.ok && tempos(again.value)).toEqual([[0, 1, 100], [4, 1, 60], [6, 1, 90]]); // prettier-ignore
  });

  it('follow the repeats: what is played again is played in its own tempo', () => {
    const score = song('|:CDEF|[Q:1/4=60]GABc:|');
    expect(heard(Midi.write(score, { passes: 'form' }))).toEqual([
      [0, 600_000],
      [4, 1_000_000],
      [8, 600_000],
      [12, 1_000_000],
    ]);
  });

  it('come after a count in the first tempo', () => {
    const score = song('CDEF|[Q:1/4=60]GABc|');
    const bytes = Midi.write(score, { countIn: true, click: true });
    expect(heard(bytes)).toEqual([[0, 600_000], [8, 1_000_000]]); // prettier-ignore
  });

  it('decide what the click counts: an eighth where the tempo counts eighths', () => {
    const score = sound(songOf('C3 D3|[Q:1/8=90]E3 F3|', [], 'M:6/8\nL:1/8\nQ:3/8=60'));
    const clicks = parseMidi(Midi.write(score, { click: true })).tracks.at(-1);
    expect(clicks?.filter(({ type }) => type === 'noteOn')).toHaveLength(2 + 6);
  });

  it('keep their ratio to another first tempo; without any tempo none is written', () => {
    const score = song('CDEF|[Q:1/4=60]GABc|');
    const twice = Midi.write(score, { tempo: { beat: QUARTER, perMinute: 200 } });
    expect(heard(twice)).toEqual([[0, 300_000], [4, 500_000]]); // prettier-ignore
    expect(heard(Midi.write(score, { tempo: null }))).toEqual([]);
  });
});
