import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { Abc, Midi, MusicXml, QUARTER, Scores, type Score } from '#music';
import { schemaErrors } from '#test/support/musicxml-schema.ts';
import { played, smf, type Timed } from '#test/support/midi-file-writer.ts';
import { songOf } from '#test/support/small-abc.ts';
import { attributes, FOUR, note, readWith, smallXml } from '#test/support/small-xml.ts';
import { makeEngraver } from '#test/support/verovio.ts';

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

const metronome = (perMinute: string, unit = '<beat-unit>quarter</beat-unit>', more = '') =>
  `<direction><direction-type><metronome>${unit}<per-minute>${perMinute}</per-minute></metronome></direction-type>${more}</direction>`;

// MusicXML 4.0, pages `metronome` and `sound`: `tempo` is in quarters a minute.
describe('Changes of tempo in MusicXML', () => {
  const read = (...measures: string[]) => {
    const { score, codes } = readWith(smallXml([{ measures: [attributes() + (measures[0] ?? ''), ...measures.slice(1)] }])); // prettier-ignore
    return { tempos: tempos(sound(score)), codes };
  };

  it.each<[string, string[], (readonly [number, number, number])[]]>([
    [
      'printed',
      [metronome('100') + FOUR, metronome('60') + FOUR],
      [
        [0, 1, 100],
        [4, 1, 60],
      ],
    ],
    [
      'sounding only',
      ['<sound tempo="100"/>' + FOUR, '<sound tempo="60"/>' + FOUR],
      [
        [0, 1, 100],
        [4, 1, 60],
      ],
    ],
    [
      'printed before sounding',
      [FOUR, '<sound tempo="61"/>' + metronome('60') + FOUR],
      [[4, 1, 60]],
    ],
    [
      'dotted',
      [metronome('60', '<beat-unit>quarter</beat-unit><beat-unit-dot/>') + FOUR, FOUR],
      [[0, 1.5, 60]],
    ],
    [
      'inside a bar',
      [metronome('100') + note('C4:2') + metronome('60') + note('D4:2')],
      [
        [0, 1, 100],
        [2, 1, 60],
      ],
    ],
    [
      'by an offset',
      [metronome('100') + metronome('60', undefined, '<offset>2</offset>') + FOUR],
      [
        [0, 1, 100],
        [2, 1, 60],
      ],
    ],
    ['that change nothing', [metronome('100') + FOUR, metronome('100') + FOUR], [[0, 1, 100]]],
  ])('%s are read', (_, measures, expected) => {
    expect(read(...measures)).toEqual({
      tempos: expected,
      codes: expect.not.arrayContaining(['tempo-changes']) as string[],
    });
  });

  it('hidden steps of a ritardando are thinned, what is printed stays', () => {
    const steps = Array.from({ length: 30 }, (_, i) => `<sound tempo="${100 - i}"/>${FOUR}`);
    const { tempos: kept, codes } = read(...steps, metronome('80') + FOUR);
    expect(kept).toEqual([[0, 1, 100], [120, 1, 80]]); // prettier-ignore
    expect(codes).toContain('info-tempo-changes');
  });

  const changing = (): Score =>
    sound(songOf('CDEF|[Q:1/4=60]GA[Q:3/8=60]Bc|[Q:1/2=50.5]c4|', [], HEAD));

  it('are written as marks and for the ear, and read again', () => {
    const score = changing();
    const again = readWith(MusicXml.write(score)).score;
    expect(tempos(again)).toEqual(tempos(score));
  });

  it('are valid against the schema of the W3C', async () => {
    expect(await schemaErrors({ 'changing.xml': MusicXml.write(changing()) })).toEqual([]);
  });

  // Its MIDI has one tempo a bar; what it reads stands in its MEI: beats of the meter from 1, quarters a minute.
  it('are read by Verovio where they stand', async () => {
    const engraver = await makeEngraver();
    expect(engraver.loadData(MusicXml.write(changing()))).toBeTruthy();
    let bar = '';
    const found: string[] = [];
    for (const [, n, beat, perMinute] of engraver
      .getMEI({})
      .matchAll(
        /<measure [^>]*?n="(\d+)"|<tempo [^>]*?tstamp="([\d.]+)"[^>]*?midi\.bpm="([\d.]+)"/g,
      )) {
      if (n !== undefined) bar = n;
      else found.push(`bar ${bar}, beat ${String(beat)}: ${String(perMinute)}`);
    }
    expect(found.sort()).toEqual([
      'bar 1, beat 1: 100',
      'bar 2, beat 1: 60',
      'bar 2, beat 3: 90',
      'bar 3, beat 1: 101',
    ]);
  }, 30_000);
});

// MusicXML 4.0, page `barline`: its fermata stands over the line, after the last note.
describe('A fermata on a bar line', () => {
  const line = '<barline location="right"><bar-style>light-light</bar-style><fermata/></barline>';

  it('holds the last note of each voice before it, and is told', () => {
    const bar = `${note('C4:2', '<voice>1</voice>')}${note('D4:2', '<voice>1</voice>')}<backup><duration>4</duration></backup>${note('C3:4', '<voice>2</voice>')}`;
    const { score, codes } = readWith(smallXml([{ measures: [attributes() + bar + line, FOUR] }]));
    const held = score.voices.map(({ notes }) => notes.flatMap(({ at, fermata }) => (fermata ? [at / QUARTER] : []))); // prettier-ignore
    expect(held).toEqual([[2], [0]]);
    expect(codes).toContain('info-fermata-on-bar-line');
  });

  it('is told where no note stands before it', () => {
    const { score, codes } = readWith(smallXml([{ measures: [attributes() + note('r:4') + line, FOUR] }])); // prettier-ignore
    expect(score.voices[0]?.notes.some(({ fermata }) => fermata)).toBe(false);
    expect(codes).toContain('fermata-on-bar-line');
  });
});
