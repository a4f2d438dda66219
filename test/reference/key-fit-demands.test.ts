import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { KeyFit, Keys, Parts, Pitches, Time, Transpose, type Key, type Singer } from '#music';
import { readByAbcjs } from '#test/support/abcjs-reader.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

// Independent reading: abcjs 6.7.2, parseOnly; its first voice is the tune. Meter and tempo are read off the file's text here.
const folder = new URL('../../seed-data/hymns/', import.meta.url);
const QUARTER = 20160;

interface Sung {
  readonly at: number;
  readonly length: number;
  readonly midi: number;
}

/** Ties joined by a walk over the notes, of chords the top. */
function sungByAbcjs(text: string): Sung[] {
  const joined: { at: number; length: number; midi: number }[] = [];
  let open = false;
  for (const { at, length, pitches, tied } of readByAbcjs(text)[0]?.notes ?? []) {
    const midi = Pitches.midiOf(pitches.at(-1) ?? '');
    const last = joined.at(-1);
    if (open && last && last.midi === midi && last.at + last.length === at) last.length += length;
    else joined.push({ at, length, midi });
    open = tied;
  }
  return joined;
}

/** Ticks of the beat that is felt: a quarter, a half where halves are counted, a dotted quarter in 9/8. */
function feltIn(text: string): number {
  const [, beats = '', unit = ''] = /^M: *(\d+)\/(\d+)/m.exec(text) ?? [];
  if (unit === '2') return 2 * QUARTER;
  return unit === '8' && Number(beats) % 3 === 0 ? 1.5 * QUARTER : QUARTER;
}

const textOf = (file: string): string => readFileSync(new URL(file, folder), 'latin1');
const homeOf = (file: string): Key => hymn(file).keys[0]?.key as Key;
const voice = (low: string, high: string, more: Partial<Singer> = {}): Singer => ({
  id: 'ada',
  name: 'Ada',
  comfortable: { low, high },
  reads: 'as written',
  ...more,
});
const VOICES = [voice('A3', 'C5'), voice('D4', 'G4'), voice('G3', 'E5')];
const asked = (file: string, singer: Singer, key = homeOf(file)) => {
  const found = KeyFit.demands(hymn(file), { tempo: null })(singer, key);
  if (!found) throw new Error(`${file} has a tune`);
  return found;
};

describe('what a tune asks of a voice, where an independent reader (abcjs) has the notes', () => {
  it.each(HYMN_FILES)('%s: every note, and where it lies', (file) => {
    const theirs = sungByAbcjs(textOf(file));
    for (const singer of VOICES) {
      const [low = 0, high = 0] = [singer.comfortable.low, singer.comfortable.high].map(
        Pitches.midiOf,
      );
      const ours = asked(file, singer).notes;
      expect(ours.map(({ at, length, midi }) => ({ at, length, midi }))).toEqual(theirs);
      const outside = theirs.filter(({ midi }) => midi > high || midi < low).length;
      const edges = theirs.filter(({ midi }) => [low, low + 1, high - 1, high].includes(midi));
      expect(ours.filter(({ place }) => place === 'above' || place === 'below')).toHaveLength(
        outside,
      );
      expect(ours.filter(({ place }) => place.startsWith('at the'))).toHaveLength(edges.length);
    }
  });

  it.each(HYMN_FILES)(
    '%s: how many notes are long, and how many of them lie at the top',
    (file) => {
      const [text, theirs] = [textOf(file), sungByAbcjs(textOf(file))];
      const long = theirs.filter(({ length }) => length / feltIn(text) >= 2);
      for (const singer of VOICES) {
        const high = Pitches.midiOf(singer.comfortable.high);
        const top = long.filter(({ midi }) => midi + 1 >= high);
        const ours = asked(file, singer).long;
        expect(ours.count).toBe(long.length);
        expect(ours.atTop).toBe(top.length);
        expect(ours.above).toBe(top.filter(({ midi }) => midi > high).length);
        const most = Math.max(0, ...top.map(({ length }) => length));
        expect(ours.longestHigh?.length ?? 0).toBe(most);
      }
    },
  );

  it.each(HYMN_FILES)('%s: no leap is bigger than the biggest', (file) => {
    const theirs = sungByAbcjs(textOf(file));
    let most = 0;
    for (let i = 1; i < theirs.length; i += 1) {
      most = Math.max(most, Math.abs((theirs[i]?.midi ?? 0) - (theirs[i - 1]?.midi ?? 0)));
    }
    const leap = asked(file, voice('A3', 'C5')).leap;
    expect(Math.abs(leap?.interval.semitones ?? 0)).toBe(most);
    const at = theirs.findIndex((each) => each.at === leap?.to.at);
    expect(Math.abs((theirs[at]?.midi ?? 0) - (theirs[at - 1]?.midi ?? 0))).toBe(most);
  });

  it.each(HYMN_FILES)(
    '%s: the longest stretch between rests and the breaths of the sheet',
    (file) => {
      const text = textOf(file);
      const key = homeOf(file);
      const player = {
        id: 'a',
        name: 'Ada',
        role: 'lead voice',
        level: 'beginner',
        reach: 12,
      } as const;
      const part = Parts.build(hymn(file), { key, tempo: null, density: 'bar' }, player, {
        roles: [],
      });
      if (!part.ok) throw new Error(JSON.stringify(part.problems));
      const breaths = new Set(
        Time.melodyOf(part.value.score)
          .notes.filter(({ signs }) => signs?.includes('breath'))
          .map(({ at, length }) => at + length),
      );
      const perMinute = Number(/Q: *1\/4 *= *(\d+)/.exec(text)?.[1]);
      let [most, start, end] = [0, 0, -1];
      for (const { at, length } of sungByAbcjs(text)) {
        if (at !== end || breaths.has(at)) start = at;
        end = at + length;
        most = Math.max(most, end - start);
      }
      expect(asked(file, voice('A3', 'C5')).phrase.seconds).toBeCloseTo(
        ((most / QUARTER) * 60) / perMinute,
        6,
      );
    },
  );
});

/** Worked out by hand from the printed tunes; the tempo is that of the files. */
describe('three tunes, counted by hand', () => {
  it('New Britain for A3 to C5 in G', () => {
    expect(asked('Amazing_Grace-New_Britain.abc', voice('A3', 'C5')).sentences).toEqual([
      'Of the twelve long notes (two beats or more) four lie within a half step of C5 or above it: the longest is D5 in bar 7, five beats.',
      'The biggest leap is a fourth up, D4 to G4, into bar 1.',
      // Pickup and three bars of three, less the beat that begins the next line: twelve quarters at 100.
      'The longest breath: the pickup to bar 4, 7.2 seconds at quarter = 100.',
    ]);
  });

  it('St Anne: lines of eight and six, the longer one of eight quarters at 100', () => {
    const { phrase } = asked('Our_God_Our_Help_In_Ages_Past-St_Anne.abc', voice('A3', 'D5'));
    expect([phrase.fromBar, phrase.toBar, phrase.seconds]).toEqual([0, 2, 4.8]);
  });

  it('St Louis: an octave up from the end of a line to the next, in bar 14', () => {
    const { leap } = asked('O_Little_Town_Of_Bethlehem-St_Louis.abc', voice('A3', 'D5'));
    expect(leap).toMatchObject({
      from: { pitch: 'D4', bar: 14 },
      to: { pitch: 'D5', bar: 14 },
      interval: { steps: 7, semitones: 12 },
      over: 'breath',
    });
  });
});

describe('whatever the tune, the key and the voice', () => {
  const file = fc.constantFrom(...HYMN_FILES);
  const up = fc.integer({ min: -5, max: 5 });
  const low = fc.integer({ min: 50, max: 62 });
  const size = fc.integer({ min: 8, max: 20 });

  it('song and voice moved together: the same places, long notes, leap and breath', () => {
    fc.assert(
      fc.property(file, up, low, size, (name, by, from, span) => {
        const score = hymn(name);
        const home = score.keys[0]?.key as Key;
        const key = Keys.usualSpelling({
          tonic: Keys.keysToOffer(home.mode)[(Pitches.pitchClassOf(home.tonic) + by + 12) % 12]
            ?.tonic as string,
          mode: home.mode,
        });
        const moved = Transpose.score(score, key);
        const way = Transpose.interval(home, key).semitones;
        const range = (shift: number): Singer =>
          voice(sharp(from + shift), sharp(from + span + shift));
        const here = KeyFit.demands(score, { tempo: null })(range(0), home);
        const there = KeyFit.demands(moved, { tempo: null })(range(way), key);
        expect(there?.notes.map(({ place }) => place)).toEqual(
          here?.notes.map(({ place }) => place),
        );
        expect(there?.leap?.interval).toEqual(here?.leap?.interval);
        expect(there?.phrase).toEqual(here?.phrase);
        const counts = ({
          longestHigh: _high,
          longestLow: _low,
          ...rest
        }: object & {
          longestHigh: unknown;
          longestLow: unknown;
        }) => rest;
        expect(there && counts(there.long)).toEqual(here && counts(here.long));
        // In the song as it stands, asked for in the other key: as in the song that was moved.
        const asked = KeyFit.demands(score, { tempo: null })(range(way), key);
        expect(asked?.notes.map(({ midi }) => midi)).toEqual(there?.notes.map(({ midi }) => midi));
      }),
      { numRuns: 80 },
    );
  });

  it('song and all voices moved together: the same verdicts and figures, key for key', () => {
    fc.assert(
      fc.property(file, up, low, (name, by, from) => {
        const score = hymn(name);
        const home = score.keys[0]?.key as Key;
        const keys = Keys.keysToOffer(home.mode);
        const at = keys.findIndex(
          ({ tonic }) => Pitches.pitchClassOf(tonic) === Pitches.pitchClassOf(home.tonic),
        );
        const key = keys[(at + by + 12) % 12] as Key;
        const way = Transpose.interval(home, key).semitones;
        const team = (shift: number): Singer[] =>
          [0, 5, -12].map((apart, i) => ({
            id: `voice ${i}`,
            name: `Voice ${i}`,
            comfortable: {
              low: sharp(from + apart + shift),
              high: sharp(from + apart + 15 + shift),
            },
          }));
        const figures = (song: typeof score, singers: Singer[]) =>
          KeyFit.table(song, singers)
            .rows.map(({ interval, voice: id, verdict, octave, ...row }) => ({
              by: interval.semitones,
              id,
              verdict,
              octave,
              reserves: [row.lowerReserve, row.upperReserve],
              shares: [row.shareOutside, row.shareAtTop, row.shareAtBottom],
            }))
            // The way to a key six half steps off may go up or down.
            .filter((row) => Math.abs(row.by) < 6)
            .sort((a, b) => a.by - b.by || a.id.localeCompare(b.id));
        expect(figures(Transpose.score(score, key), team(way))).toEqual(figures(score, team(0)));
      }),
      { numRuns: 60 },
    );
  });

  it('twice as fast is half as long a breath, at another place never', () => {
    fc.assert(
      fc.property(file, fc.integer({ min: 40, max: 100 }), (name, perMinute) => {
        const phrase = (rate: number) =>
          KeyFit.demands(hymn(name), { tempo: { beat: QUARTER, perMinute: rate } })(
            voice('A3', 'D5'),
            homeOf(name),
          )?.phrase;
        const [slow, fast] = [phrase(perMinute), phrase(2 * perMinute)];
        expect(slow?.seconds).toBeCloseTo(2 * (fast?.seconds ?? 0), 9);
        expect([slow?.fromBar, slow?.toBar]).toEqual([fast?.fromBar, fast?.toBar]);
      }),
      { numRuns: 60 },
    );
  });
});

function sharp(midi: number): string {
  const names = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
  return `${names[midi % 12] ?? ''}${Math.floor(midi / 12) - 1}`;
}
